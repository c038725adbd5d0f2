using Chamber.Core.Climate.Warmth;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Chamber.Core.Trials;

/// <summary>
/// Finds the most likely numbers for all temperatures at once. The likelihood has corners wherever a cardinal temperature passes a
/// trial's, so the search goes without slopes (J. A. Nelder and R. Mead, Comput. J. 7 (1965) 308-313), from the best of many starts.
/// </summary>
/// <param name="trials">The seeds at each temperature.</param>
/// <param name="ownShares">Each temperature has the share that suits it best, instead of one for all.</param>
internal sealed class TrialSearch(TrialSeeds[] trials, bool ownShares = false)
{
    private const double Impossible = 1e9;
    private const int StepsMax = 3000;
    private const int StartsKept = 4;
    private const int RestartsMax = 6;

    /// <summary>Restarting the simplex gains less than this: found.</summary>
    private const double Found = 1e-4;

    /// <summary>First steps of the simplex: °C, and logarithms.</summary>
    private static readonly double[] Steps = [1, 1, 1, 1, 0.1, 0.1, 0.1];

    private readonly double warmest = trials.Where(trial => trial.Up > 0).Max(trial => trial.Celsius);
    private readonly double fastest = trials.Where(trial => trial.Up > 0).MinBy(trial => trial.RoughHalfDays)!.Celsius;

    /// <summary>ln of the likelihood, a little less for numbers that no trial speaks about and that lie far from the usual: they stay where
    /// sense puts them.</summary>
    public double Log(TrialPoint point)
    {
        var excess = point.OutOfOrder();
        if (excess > 0)
        {
            return -Impossible * (1 + excess);
        }

        var (spread, share) = (point.Spread, point.Share);
        var sum = -Unusual(point.Cardinals);
        foreach (var trial in trials)
        {
            var logHalf = point.LogHalfDays(trial.Celsius);
            sum += trial.LogLikelihood(logHalf, spread, ownShares ? trial.LikeliestShare(logHalf, spread) : share);
        }

        return sum;
    }

    public (TrialPoint Point, double Log) Best()
    {
        var starts = Starts().Select(point => (point, Log: Log(point))).OrderByDescending(start => start.Log).Take(StartsKept);
        return starts.Select(start => Climb(start.point.At, [0, 1, 2, 3, 4, 5, 6], Found, free => new(free))).MaxBy(found => found.Log);
    }

    /// <summary>Climbs from a point along the free numbers.</summary>
    /// <param name="from">Where to start: all seven.</param>
    /// <param name="free">Which numbers may move.</param>
    /// <param name="enough">A restart that gains less than this ends the climb.</param>
    /// <param name="complete">The whole point of seven numbers whose free ones have been moved.</param>
    public (TrialPoint Point, double Log) Climb(double[] from, int[] free, double enough, Func<double[], TrialPoint> complete)
    {
        var best = (Point: complete(from), Log: double.NegativeInfinity);
        var scale = 1.0;
        for (var restart = 0; restart < RestartsMax; restart++)
        {
            var before = best.Log;
            Simplex(best.Point.At, scale);
            if (best.Log - before < enough)
            {
                break;
            }

            scale = 0.3;
        }

        return best;

        void Simplex(double[] centre, double size)
        {
            var objective = ObjectiveFunction.Value(moved =>
            {
                var whole = (double[])centre.Clone();
                for (var i = 0; i < free.Length; i++)
                {
                    whole[free[i]] = moved[i];
                }

                var point = complete(whole);
                var log = Log(point);
                best = log > best.Log ? (point, log) : best;
                return -log;
            });
            try
            {
                NelderMeadSimplex.Minimum(
                    objective,
                    Vector<double>.Build.DenseOfEnumerable(free.Select(number => centre[number])),
                    Vector<double>.Build.DenseOfEnumerable(free.Select(number => size * Steps[number])),
                    1e-8,
                    StepsMax);
            }
            catch (MaximumIterationsException)
            {
                // The best so far is kept, and the next restart goes on from it.
            }
        }
    }

    private double Unusual(CardinalTemperatures cardinals) => 1e-3 * (
        Square((cardinals.Base.Celsius - 5) / 5)
        + Square((cardinals.OptimumLow.Celsius - fastest) / 5)
        + Square((cardinals.OptimumHigh.Celsius - Math.Max(fastest, warmest - 2)) / 5)
        + Square((cardinals.Ceiling.Celsius - warmest - 5) / 5));

    private IEnumerable<TrialPoint> Starts()
    {
        var celsius = trials.Where(trial => trial.Up > 0).Select(trial => trial.Celsius).ToArray();
        foreach (var low in celsius)
        {
            foreach (var high in celsius.Where(high => high >= low))
            {
                foreach (var below in new double[] { 1, 4, 8, 14 })
                {
                    foreach (var above in new double[] { 1, 4, 9 })
                    {
                        yield return Start(celsius[0] - below, low, high, celsius[^1] + above);
                    }
                }
            }
        }
    }

    private TrialPoint Start(double low, double from, double to, double high)
    {
        low = Math.Max(low, TrialPoint.CoolestBase);
        high = Math.Min(high, TrialPoint.WarmestCeiling);
        var cardinals = new TrialPoint([low, from, to, high, 0, 0, 0]).Cardinals;
        var speeds = trials.Where(trial => trial.Up > 0)
            .Select(trial => Math.Log(trial.RoughHalfDays * cardinals.EffectiveWarmth(trial.Celsius) / cardinals.BestWarmth))
            .Order().ToArray();
        var share = Math.Clamp(trials.Max(trial => (double)trial.Up / trial.Seeds), 0.05, 0.98);
        return new([low, from, to, high, speeds[speeds.Length / 2], Math.Log(0.25), Math.Asin(Math.Sqrt(share))]);
    }

    private static double Square(double value) => value * value;
}
