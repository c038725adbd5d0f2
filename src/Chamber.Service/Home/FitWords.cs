using Chamber.Core.Climate;
using Chamber.Core.Trials;

namespace Chamber.Service.Home;

/// <summary>What somebody's trials came to, in words: the same on the command line and the page.</summary>
internal static class FitWords
{
    public static string Headline(TrialFit fit)
    {
        var (seeds, temperatures) = (fit.Tallies.Sum(tally => tally.Seeds), CountText.Of(fit.Tallies.Count, "temperature", "temperatures"));
        return fit.Doubts.Count == 0 ? $"These trials tell the whole profile: {seeds} seeds at {temperatures}."
            : $"These trials tell a part of the profile: {seeds} seeds at {temperatures}.";
    }

    /// <summary>Each number of the profile, with its interval of 95 %.</summary>
    public static IEnumerable<(string What, string Value)> Profile(TrialFit fit, Func<Temperature, string> show) =>
    [
        ("No progress below", Degrees(fit.Base, show)),
        ("Fastest from", Degrees(fit.OptimumLow, show)),
        ("Fastest to", Degrees(fit.OptimumHigh, show)),
        ("No progress above", Degrees(fit.Ceiling, show)),
        ("Half up after", Text(fit.HalfWarmHours, value => $"{PlainText.Number(value, 0)} °C·h")),
        ("Spread", Text(fit.Spread, value => PlainText.Number(value, 3))),
        ("Can come up", Text(fit.GerminableShare, RangeText.Percent)),
    ];

    /// <summary>What these temperatures cannot tell, and why.</summary>
    public static IEnumerable<string> Doubts(TrialFit fit, Func<Temperature, string> show)
    {
        var doubts = fit.Doubts.Select(
            doubt => $"{PlainText.Capital(Name(doubt.What))} cannot be known from these temperatures: {doubt.Why}");
        return fit.ShareDifference is { } difference ? doubts.Append(Sentence(difference, show)) : doubts;
    }

    /// <summary>The name of a number in a sentence.</summary>
    public static string Name(string what) => what switch
    {
        "optimumLow" => "the low end of the plateau",
        "optimumHigh" => "the high end of the plateau",
        "halfWarmHours" => "the half warm-hours",
        _ => "the " + what,
    };

    /// <summary>What differing shares mean, and what to do.</summary>
    private static string Sentence(TrialShareDifference difference, Func<Temperature, string> show)
    {
        var shares = string.Join(", ", difference.Shares.Select(each => $"{RangeText.Percent(each.Share)} at {show(each.Temperature)}"));
        var chance = difference.Chance < 0.0001 ? "less than one in 10,000" : $"one in {PlainText.Number(1 / difference.Chance, 0)}";
        return $"The share that comes up differs by temperature: {shares}, late ones included. If all had one share, chance alone would "
            + $"make them differ so much {chance}. "
            + "The single share above fits none of them, and it may bend the warm-hours: with its own share for each temperature "
            + $"the base is {show(difference.Cardinals.Base)}, fastest from {show(difference.Cardinals.OptimumLow)} to "
            + $"{show(difference.Cardinals.OptimumHigh)}, ceiling {show(difference.Cardinals.Ceiling)}, half up after "
            + $"{PlainText.Number(difference.HalfWarmHours.CelsiusHours, 0)} °C·h, spread {PlainText.Number(difference.Spread, 3)}. "
            + "Fit the trials near your sowing temperature by themselves.";
    }

    private static string Degrees(TrialEstimate estimate, Func<Temperature, string> show) =>
        Text(estimate, value => show(Temperature.FromCelsius(value)));

    private static string Text(TrialEstimate estimate, Func<double, string> show) => (estimate.Low, estimate.Mid, estimate.High) switch
    {
        ({ } low, { } mid, { } high) => $"{show(mid)}, likely {show(low)} to {show(high)}",
        ({ } low, { } mid, null) => $"{show(mid)}, likely {show(low)} or more",
        (null, { } mid, { } high) => $"{show(mid)}, likely {show(high)} or less",
        (null, { } mid, null) => show(mid),
        ({ } low, null, { } high) => $"cannot be known; somewhere from {show(low)} to {show(high)}",
        ({ } low, null, null) => $"cannot be known; {show(low)} or more",
        (null, null, { } high) => $"cannot be known; {show(high)} or less",
        _ => "cannot be known",
    };
}
