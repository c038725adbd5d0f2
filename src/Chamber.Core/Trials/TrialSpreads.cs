using Chamber.Core.Climate;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Chamber.Core.Trials;

/// <summary>That the spread of the seeds changes with temperature, in a straight line of ln σ.</summary>
/// <param name="Coldest">The coldest trial with seedlings.</param>
/// <param name="AtColdest">σ of ln warm-hours there.</param>
/// <param name="Warmest">The warmest trial with seedlings.</param>
/// <param name="AtWarmest">σ there.</param>
/// <param name="Gain">By how much ln of the likelihood is better than with one spread, the rest of the law held.</param>
/// <param name="Chance">How often as much is gained where one spread is right (S.S. Wilks, 1938, one degree of freedom).</param>
public sealed record TrialSpreadChange(
    Temperature Coldest, double AtColdest, Temperature Warmest, double AtWarmest, double Gain, double Chance);

/// <summary>Asks the trials whether one spread serves all temperatures.</summary>
internal static class TrialSpreads
{
    /// <summary>Rarer than this, the spread changes.</summary>
    private const double ChanceMin = 0.01;

    /// <summary>With two temperatures a straight line would fit anything.</summary>
    private const int TemperaturesMin = 3;

    /// <summary>How the spread changes; null where one serves.</summary>
    public static TrialSpreadChange? Change(TrialSeeds[] trials, (TrialPoint Point, double Log) best)
    {
        TrialSeeds[] up = [.. trials.Where(trial => trial.Up > 0 && double.IsFinite(best.Point.LogHalfDays(trial.Celsius)))];
        if (up.Length < TemperaturesMin)
        {
            return null;
        }

        var middle = up.Average(trial => trial.Celsius);
        var one = LogOf(0, Math.Log(best.Point.Spread));
        var (slope, level) = Climb(Math.Log(best.Point.Spread), (at, log) => -LogOf(at, log));
        var gain = LogOf(slope, level) - one;
        var chance = 1 - ChiSquared.CDF(1, Math.Max(0, 2 * gain));
        return chance < ChanceMin
            ? new(Celsius(up[0]), SpreadAt(up[0].Celsius), Celsius(up[^1]), SpreadAt(up[^1].Celsius), gain, chance)
            : null;

        double SpreadAt(double celsius) => Bounded(level + slope * (celsius - middle));

        double LogOf(double slope, double level) => up.Sum(trial => trial.LogLikelihood(
            best.Point.LogHalfDays(trial.Celsius), Bounded(level + slope * (trial.Celsius - middle)), best.Point.Share));
    }

    private static double Bounded(double logSpread) => Math.Clamp(Math.Exp(logSpread), TrialPoint.SpreadMin, TrialPoint.SpreadMax);

    private static Temperature Celsius(TrialSeeds trial) => Temperature.FromCelsius(trial.Celsius);

    private static (double Slope, double Level) Climb(double level, Func<double, double, double> objective)
    {
        try
        {
            var found = NelderMeadSimplex.Minimum(
                ObjectiveFunction.Value(point => objective(point[0], point[1])),
                Vector<double>.Build.DenseOfArray([0, level]),
                Vector<double>.Build.DenseOfArray([0.05, 0.2]),
                1e-7,
                1000).MinimizingPoint;
            return (found[0], found[1]);
        }
        catch (MaximumIterationsException)
        {
            return (0, level);
        }
    }
}
