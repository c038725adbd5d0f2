using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Trials;

/// <summary>That the share that comes up differs by temperature, which one share for all does not fit.</summary>
/// <param name="Chance">How often trials of one share would differ at least so much, 0 to 1: by twice the ratio of likelihoods (S. S.
/// Wilks, Ann. Math. Statist. 9 (1938) 60-62).</param>
/// <param name="Shares">The share that comes up at each temperature in the end, 0 to 1, those that were only late counted in; coolest
/// first.</param>
/// <param name="Cardinals">The temperatures of the profile that is most likely with these shares.</param>
/// <param name="HalfWarmHours">Its θ50.</param>
/// <param name="Spread">Its σ.</param>
public sealed record TrialShareDifference(
    double Chance, IReadOnlyList<TrialShare> Shares, CardinalTemperatures Cardinals, WarmHours HalfWarmHours, double Spread);

/// <summary>The share of the seeds at a temperature that would come up in the end, 0 to 1.</summary>
public readonly record struct TrialShare(Temperature Temperature, double Share);

/// <summary>Asks of trials whether one share stands for all temperatures.</summary>
internal static class TrialShares
{
    /// <summary>Rarer than this it is said: one fit in a hundred warns for nothing.</summary>
    private const double ChanceMax = 0.01;

    private const double Enough = 1e-3;

    /// <summary>Null when one share fits well enough.</summary>
    /// <param name="trials">The seeds at each temperature.</param>
    /// <param name="best">The best point with one share.</param>
    public static TrialShareDifference? Difference(TrialSeeds[] trials, (TrialPoint Point, double Log) best)
    {
        if (trials.Length < 2)
        {
            return null;
        }

        // The profile is sought again, or it would have bent to make up for seeds that died.
        var search = new TrialSearch(trials, ownShares: true);
        var free = Enumerable.Range(0, TrialPoint.Numbers).Where(number => number != (int)TrialNumber.Angle).ToArray();
        var apart = search.Climb(best.Point.At, free, Enough, moved => new(moved));

        // One number more for each temperature but one. Where a share stands at its end of 1 the test is a little too careful.
        var chance = 1 - ChiSquared.CDF(trials.Length - 1, Math.Max(0, 2 * (apart.Log - best.Log)));
        return chance >= ChanceMax
            ? null
            : new(chance, [.. trials.Where(trial => trial.Up > 0).Select(trial => new TrialShare(
                Temperature.FromCelsius(trial.Celsius),
                trial.LikeliestShare(apart.Point.LogHalfDays(trial.Celsius), apart.Point.Spread)))],
                apart.Point.Cardinals,
                WarmHours.FromCelsiusHours(Math.Exp(apart.Point.LogHalfWarmHours)),
                apart.Point.Spread);
    }
}
