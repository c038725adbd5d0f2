using Chamber.Core.Climate;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Chamber.Core.Trials;

/// <summary>What the trials at one temperature say by themselves, without a law that joins temperatures, and what the law says of
/// them.</summary>
/// <param name="Temperature">The steady temperature.</param>
/// <param name="HalfDays">Days until half of those that come up are up, by the trials' own curve; null where none came up.</param>
/// <param name="Spread">σ of ln days of that curve; null where none came up.</param>
/// <param name="Share">The share that comes up in the end, 0 to 1.</param>
/// <param name="LawHalfDays">Days until half by the fitted law; null where it brings none up.</param>
/// <param name="WithoutHalfDays">The same by a law fitted to the other temperatures alone; null where that cannot be said.</param>
/// <param name="SmoothHalfDays">The same by a parabola through ln of the other temperatures' rates; null where there are too few.</param>
public sealed record TrialCurve(
    Temperature Temperature,
    double? HalfDays,
    double? Spread,
    double Share,
    double? LawHalfDays,
    double? WithoutHalfDays,
    double? SmoothHalfDays);

/// <summary>The curve of one temperature's trials alone: ln of days to half, ln σ and the share, by maximum likelihood.</summary>
internal sealed record OwnCurve(TrialSeeds Trial, double LogHalf, double Spread, double Share, double Log)
{
    public static OwnCurve Of(TrialSeeds trial)
    {
        if (trial.Up == 0)
        {
            return new(trial, double.PositiveInfinity, double.NaN, 0, 0);
        }

        var objective = ObjectiveFunction.Value(point => -At(trial, point[0], point[1]).Log);
        var best = At(trial, Math.Log(trial.RoughHalfDays), Math.Log(0.25));
        foreach (var spread in new[] { 0.1, 0.25, 0.6 })
        {
            try
            {
                var found = NelderMeadSimplex.Minimum(
                    objective,
                    Vector<double>.Build.DenseOfArray([best.LogHalf, Math.Log(spread)]),
                    Vector<double>.Build.DenseOfArray([0.2, 0.3]),
                    1e-8,
                    1000).MinimizingPoint;
                var here = At(trial, found[0], found[1]);
                best = here.Log > best.Log ? here : best;
            }
            catch (MaximumIterationsException)
            {
                // Another start, or the rough one, serves.
            }
        }

        return best;
    }

    private static OwnCurve At(TrialSeeds trial, double logHalf, double logSpread)
    {
        var spread = Math.Exp(Math.Clamp(logSpread, Math.Log(TrialPoint.SpreadMin), Math.Log(TrialPoint.SpreadMax)));
        var share = trial.LikeliestShare(logHalf, spread);
        return new(trial, logHalf, spread, share, trial.LogLikelihood(logHalf, spread, share));
    }
}
