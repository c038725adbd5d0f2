using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>How words are to be put.</summary>
/// <param name="Fahrenheit">°F instead of °C.</param>
/// <param name="Zone">Whose clock the times are given by.</param>
public sealed record WordStyle(bool Fahrenheit, DateTimeZone Zone)
{
    /// <summary>The scale of <see cref="Fahrenheit"/>.</summary>
    public TemperatureScale Scale => Fahrenheit ? TemperatureScale.Fahrenheit : TemperatureScale.Celsius;
}

/// <summary>An alert in plain words: what, since when, how bad for this batch, what to do.</summary>
/// <param name="Title">What and where, a few words.</param>
/// <param name="What">What is measured and since when.</param>
/// <param name="Harm">How bad it is for the batches concerned; empty when it is not about a batch.</param>
/// <param name="ToDo">What to do about it.</param>
public sealed record AlertText(string Title, string What, string Harm, string ToDo)
{
    /// <summary>What to mind before a hand goes where the alert sends it.</summary>
    public IReadOnlyList<ShownCaution> Cautions { get; init; } = [];

    /// <summary>The same in words as this moment wants them; or empty.</summary>
    public string Caution => CautionText.Of(Cautions);

    /// <summary>The same in one line each, for wherever the alert was reported before; or empty.</summary>
    public string CautionLine => CautionText.Lines(Cautions);

    /// <summary>All of it in one paragraph.</summary>
    public override string ToString() =>
        string.Join(' ', new[] { $"{Title}.", What, Harm, ToDo, Caution }.Where(part => part.Length > 0));
}
