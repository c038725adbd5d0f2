using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>What a batch says of a sum of factors, as a normal distribution.</summary>
/// <param name="At">Which sum.</param>
/// <param name="Precision">One over its variance.</param>
/// <param name="PrecisionMean">Its mean over its variance.</param>
internal readonly record struct SaidOfSum(Placed[] At, double Precision, double PrecisionMean);

/// <summary>
/// How far lots, methods and crops of a home lie apart: each variance is one of five multiples of what is assumed, and a set of three is as
/// likely as it makes what all batches say together, the factors integrated out (marginal likelihood; G.E.P. Box and G.C. Tiao, Bayesian
/// Inference in Statistical Analysis, 1973, chapter 5, for variance components).
/// </summary>
internal static class VarianceGrid
{
    /// <summary>The kinds whose variance is learned. A crop's family is a part of its doubt and goes with it.</summary>
    public static readonly FactorKind[] Kinds = [FactorKind.Lot, FactorKind.Method, FactorKind.Crop];

    private const double Step = 0.35;

    private static readonly double[] Logs = [-2 * Step, -Step, 0, Step, 2 * Step];
    private static readonly double[] Weights = Normalised(Array.ConvertAll(
        Logs, log => Math.Exp(-log * log / 2 / HomePriors.LogDeviationOfHomes / HomePriors.LogDeviationOfHomes)));

    /// <summary>Multiples of the variance, whose mean is 1, so that nothing changes before a home has shown anything.</summary>
    private static readonly double[] Times = Array.ConvertAll(Logs, log => Math.Exp(2 * log)
        / Logs.Zip(Weights, (each, weight) => weight * Math.Exp(2 * each)).Sum());

    /// <summary>The mean multiple of each of <see cref="Kinds"/> that the batches leave.</summary>
    /// <param name="factors">All factors, by their places.</param>
    /// <param name="said">What each batch says, in the units of the factors.</param>
    public static double[] MeanTimes(IReadOnlyList<Factor> factors, IReadOnlyList<SaidOfSum> said)
    {
        // All that is said, about the factors less their prior means: precision P and precision times mean b.
        var precision = Matrix<double>.Build.Dense(factors.Count, factors.Count);
        var pull = Vector<double>.Build.Dense(factors.Count);
        foreach (var (at, weight, weighed) in said)
        {
            var rest = weighed - weight * at.Sum(one => one.Times * factors[one.Place].PriorMean);
            foreach (var (i, times) in at)
            {
                pull[i] += times * rest;
                foreach (var (j, other) in at)
                {
                    precision[i, j] += times * other * weight;
                }
            }
        }

        var (sums, logs) = (new double[Kinds.Length], new List<(int[] Set, double Log)>());
        for (var set = 0; set < Times.Length * Times.Length * Times.Length; set++)
        {
            int[] at = [set % Times.Length, set / Times.Length % Times.Length, set / Times.Length / Times.Length];
            logs.Add((at, at.Sum(one => Math.Log(Weights[one])) + LogLikelihood(factors, precision, pull, at)));
        }

        var largest = logs.Max(one => one.Log);
        var total = logs.Sum(one => Math.Exp(one.Log - largest));
        foreach (var (at, log) in logs)
        {
            for (var kind = 0; kind < Kinds.Length; kind++)
            {
                sums[kind] += Math.Exp(log - largest) / total * Times[at[kind]];
            }
        }

        return sums;
    }

    /// <summary>Which of <see cref="Kinds"/> a factor belongs to; -1 for none.</summary>
    public static int KindOf(FactorKind kind) => Array.IndexOf(Kinds, kind == FactorKind.Family ? FactorKind.Crop : kind);

    /// <summary>ln of ∫ N(f; 0, D) exp(b·f − f·P·f/2) df = −ln det(I + √D P √D)/2 + (√D b)·(I + √D P √D)⁻¹(√D b)/2.</summary>
    private static double LogLikelihood(IReadOnlyList<Factor> factors, Matrix<double> precision, Vector<double> pull, int[] at)
    {
        var deviations = Vector<double>.Build.Dense(factors.Count, place => factors[place].PriorDeviation
            * (KindOf(factors[place].Kind) is >= 0 and var kind ? Math.Sqrt(Times[at[kind]]) : 1));
        var inner = Matrix<double>.Build.Dense(factors.Count, factors.Count,
            (i, j) => deviations[i] * precision[i, j] * deviations[j] + (i == j ? 1 : 0)).Cholesky();
        var scaled = deviations.PointwiseMultiply(pull);
        return (scaled * inner.Solve(scaled) - inner.DeterminantLn) / 2;
    }

    private static double[] Normalised(double[] weights) => Array.ConvertAll(weights, weight => weight / weights.Sum());
}
