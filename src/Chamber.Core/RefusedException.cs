using System.Globalization;
using NodaTime;

namespace Chamber.Core;

/// <summary>A sentence with moments in it. The zone they are shown in is up to whoever shows it.</summary>
/// <param name="text">The sentence; every <see cref="Instant"/> in it is a moment to be shown.</param>
public sealed class DatedText(FormattableString text)
{
    /// <summary>The sentence, its moments shown by <paramref name="show"/>.</summary>
    public string Tell(Func<Instant, string> show) => string.Format(
        CultureInfo.InvariantCulture,
        text.Format,
        Array.ConvertAll(text.GetArguments(), part => part switch
        {
            Instant at => show(at),
            DatedText inner => inner.Tell(show),
            _ => part,
        }));

    /// <summary>The sentence in UTC, which it says.</summary>
    public override string ToString() => Tell(at => at.ToString("uuuu-MM-dd HH:mm' UTC'", CultureInfo.InvariantCulture));
}

/// <summary>Somebody recorded something that cannot be true. The message is for the person: what is wrong, and what to do.</summary>
/// <param name="text">What is wrong; <see cref="Exception.Message"/> tells its moments in UTC.</param>
/// <param name="field">Which entry is wrong, as requests name it; null when it is not one entry.</param>
public abstract class RefusedException(DatedText text, string? field = null) : Exception(text.ToString())
{
    /// <summary>Which entry is wrong, as requests name it; null when it is not one entry.</summary>
    public string? Field { get; } = field;

    /// <summary>What is wrong, for whoever knows the home's zone.</summary>
    public DatedText Text { get; } = text;
}
