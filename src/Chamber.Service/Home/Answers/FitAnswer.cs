using Chamber.Core.Crops;
using Chamber.Core.Trials;

namespace Chamber.Service.Home.Answers;

/// <summary>
/// A fit for programs, in the words of <c>crops --json</c>; temperatures in °C, half warm-hours in °C·h, the share 0 to 1, intervals of
/// 95 %. Those numbers whose middle these temperatures cannot tell stand in <c>cannotKnow</c> and have no mid; the words say why.
/// When the share that comes up differs by temperature, sharesDiffer holds the chance of that and the share at each; otherwise null.
/// The same for spreadChanges, with the spread at the coldest and the warmest trial. choice tells how far the law and a smooth curve are
/// off where temperatures are left out, ln days, and has halfDays where the curve serves forecasts; null with too few temperatures.
/// </summary>
internal sealed record FitAnswer(
    TrialEstimate Base,
    TrialEstimate OptimumLow,
    TrialEstimate OptimumHigh,
    TrialEstimate Ceiling,
    TrialEstimate HalfWarmHours,
    TrialEstimate Spread,
    TrialEstimate GerminableShare,
    TrialShareDifference? SharesDiffer,
    TrialSpreadChange? SpreadChanges,
    IReadOnlyList<string> CannotKnow,
    IReadOnlyList<string> Words,
    double Level,
    int Seeds,
    IReadOnlyList<TrialTally> Temperatures,
    double LogLikelihood,
    TrialGoodness Goodness,
    IReadOnlyList<TrialCurve> Curves,
    TrialChoice? Choice,
    CropId? Saved)
{
    public static FitAnswer Of(TrialFit fit, CropId? saved) => new(
        fit.Base,
        fit.OptimumLow,
        fit.OptimumHigh,
        fit.Ceiling,
        fit.HalfWarmHours,
        fit.Spread,
        fit.GerminableShare,
        fit.ShareDifference,
        fit.SpreadChange,
        [.. fit.Doubts.Select(doubt => doubt.What)],
        [.. FitWords.Doubts(fit, temperature => $"{PlainText.Number(temperature.Celsius, 1)} °C"), .. GoodnessWords.Of(fit)],
        0.95,
        fit.Tallies.Sum(tally => tally.Seeds),
        fit.Tallies,
        fit.LogLikelihood,
        fit.Goodness,
        fit.Curves,
        fit.Choice,
        saved);
}
