using System.Globalization;
using System.Numerics;
using NodaTime;

namespace Chamber.Core;

/// <summary>What a number may be that people, programs or files give. All of them stand in <see cref="Bounds"/>.</summary>
/// <param name="What">What it is a number of, for a sentence: "the seeds of a batch".</param>
/// <param name="Low">The least that it may be.</param>
/// <param name="High">The most.</param>
/// <param name="Unit">Its unit; empty for a count or a share.</param>
/// <param name="Fix">Why it goes no further and what to write instead, as the end of a sentence.</param>
public sealed record Bound(string What, double Low, double High, string Unit, string Fix)
{
    /// <summary>What <c>chamber_broker_refused_total</c> calls it; empty for a bound that is not the own broker's.</summary>
    public string Broker { get; init; } = "";

    /// <summary>What <c>chamber_refusals_total</c> calls it; empty where whoever sent it is answered instead.</summary>
    public string Reason { get; init; } = "";

    /// <summary>Beyond this a number is shown by its power of ten: a line has an end.</summary>
    private const double ShownMax = 1e15;

    /// <summary>As shown: <c>1 to 10,000</c>, <c>0 to 5,000 W</c>.</summary>
    public string Range => $"{Show(Low)} to {Show(High)}{(Unit.Length == 0 ? string.Empty : $" {Unit}")}";

    /// <summary>Whether a number keeps to it; what is no number does not.</summary>
    public bool Holds(double value) => value >= Low && value <= High;

    /// <summary>One sentence with the fix for a number that lies beyond it; null for one that doesn't.</summary>
    public string? WhyNot<T>(T value)
        where T : INumber<T> => double.CreateSaturating(value) is var number && Holds(number)
            ? null
            : $"{Show(number)} is outside {Range} for {What}: {Fix}.";

    /// <summary>Returns a number that keeps to it.</summary>
    /// <exception cref="FormatException">It doesn't; the message says the bound and the fix.</exception>
    public T Require<T>(T value)
        where T : INumber<T> => WhyNot(value) is { } why ? throw new FormatException(why) : value;

    // Four digits stay together, as those of a year.
    internal static string Show(double value) =>
        value.ToString(Math.Abs(value) switch { < 10_000 => "0.######", < ShownMax => "#,0.######", _ => "G4" },
            CultureInfo.InvariantCulture);
}

/// <summary>How long a text may be that people, programs or files give.</summary>
/// <param name="What">What the text is, for a sentence: "a note".</param>
/// <param name="LengthMax">The most characters (UTF-16).</param>
public sealed record TextBound(string What, int LengthMax)
{
    /// <summary>What <c>chamber_broker_refused_total</c> calls it; empty for a bound that is not the own broker's.</summary>
    public string Broker { get; init; } = "";

    private const int ShownLengthMax = 20;

    /// <summary>As shown: <c>at most 1000 characters</c>.</summary>
    public string Range => $"at most {Bound.Show(LengthMax)} characters";

    /// <summary>One sentence with the fix for a text that is too long; null for one that isn't, and for none.</summary>
    public string? WhyNot(string? text) => text is null || text.Length <= LengthMax
        ? null
        : $"\"{text[..Math.Min(ShownLengthMax, LengthMax)]}...\" has {Bound.Show(text.Length)} characters: {What} has at most "
            + $"{Bound.Show(LengthMax)}; shorten it.";

    /// <summary>Returns a text that is short enough.</summary>
    /// <exception cref="FormatException">It is too long; the message says how long it may be.</exception>
    public string? Require(string? text) => WhyNot(text) is { } why ? throw new FormatException(why) : text;
}

/// <summary>How long a length of time may be that people, programs or files give.</summary>
/// <param name="What">What lasts so long, for a sentence: "the longest silence of a probe".</param>
/// <param name="Low">The shortest.</param>
/// <param name="High">The longest.</param>
/// <param name="Fix">Why it goes no further and what to write instead, as the end of a sentence.</param>
public sealed record TimeBound(string What, Duration Low, Duration High, string Fix)
{
    /// <summary>What <c>chamber_broker_refused_total</c> calls it; empty for a bound that is not the own broker's.</summary>
    public string Broker { get; init; } = "";

    /// <summary>What <c>chamber_refusals_total</c> calls it; empty where whoever sent it is answered instead.</summary>
    public string Reason { get; init; } = "";

    /// <summary>As shown: <c>1 s to 30 days</c>.</summary>
    public string Range => $"{Show(Low)} to {Show(High)}";

    /// <summary>One sentence with the fix for a length of time beyond it; null for one that isn't.</summary>
    public string? WhyNot(Duration value) => value >= Low && value <= High
        ? null
        : $"{Show(value)} is outside {Range} for {What}: {Fix}.";

    /// <summary>Returns a length of time that keeps to it.</summary>
    /// <exception cref="FormatException">It doesn't; the message says the bound and the fix.</exception>
    public Duration Require(Duration value) => WhyNot(value) is { } why ? throw new FormatException(why) : value;

    private static string Show(Duration length) => Math.Abs(length.TotalSeconds) switch
    {
        < 60 => Number(length.TotalSeconds, "s"),
        < 3600 => Number(length.TotalMinutes, "min"),
        < 48 * 3600 => Number(length.TotalHours, "h"),
        _ => Number(length.TotalDays, "days"),
    };

    private static string Number(double value, string unit) => $"{Bound.Show(Math.Round(value, 3))} {unit}";
}
