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
        for (var lot = 0; lot < Times.Length; lot++)
        {
            var others = new WithoutLots(factors, precision, pull, Times[lot]);
            for (var set = 0; set < Times.Length * Times.Length; set++)
            {
                int[] at = [lot, set % Times.Length, set / Times.Length];
                logs.Add((at, at.Sum(one => Math.Log(Weights[one])) + others.LogLikelihood(at)));
            }
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

    private static double[] Normalised(double[] weights) => Array.ConvertAll(weights, weight => weight / weights.Sum());

    /// <summary>
    /// What is said once the lots are integrated out: a batch has one lot, so no two lots are spoken of together, and each goes by itself.
    /// With ten years of lots what is left is small, where all factors together are hundreds.
    /// </summary>
    private sealed class WithoutLots
    {
        private readonly List<int> places;
        private readonly IReadOnlyList<Factor> factors;
        private readonly Matrix<double> precision;
        private readonly Vector<double> pull;
        private readonly double ofLots;

        public WithoutLots(IReadOnlyList<Factor> factors, Matrix<double> precision, Vector<double> pull, double times)
        {
            this.factors = factors;
            places = [.. Enumerable.Range(0, factors.Count).Where(place => factors[place].Kind != FactorKind.Lot)];
            this.precision = Matrix<double>.Build.Dense(places.Count, places.Count, (i, j) => precision[places[i], places[j]]);
            this.pull = Vector<double>.Build.Dense(places.Count, i => pull[places[i]]);
            foreach (var lot in Enumerable.Range(0, factors.Count).Except(places))
            {
                var variance = factors[lot].PriorDeviation * factors[lot].PriorDeviation * times;
                var own = 1 + variance * precision[lot, lot];
                var beside = Enumerable.Range(0, places.Count).Where(i => precision[lot, places[i]] != 0).ToList();
                foreach (var i in beside)
                {
                    var share = variance * precision[lot, places[i]] / own;
                    this.pull[i] -= share * pull[lot];
                    beside.ForEach(j => this.precision[i, j] -= share * precision[lot, places[j]]);
                }

                ofLots += (variance * pull[lot] * pull[lot] / own - Math.Log(own)) / 2;
            }
        }

        /// <summary>ln of ∫ N(f; 0, D) exp(b·f − f·P·f/2) df
        /// = −ln det(I + √D P √D)/2 + (√D b)·(I + √D P √D)⁻¹(√D b)/2.</summary>
        public double LogLikelihood(int[] at)
        {
            var deviations = Vector<double>.Build.Dense(places.Count, i => factors[places[i]].PriorDeviation
                * (KindOf(factors[places[i]].Kind) is >= 0 and var kind ? Math.Sqrt(Times[at[kind]]) : 1));
            var inner = Matrix<double>.Build.Dense(places.Count, places.Count,
                (i, j) => deviations[i] * precision[i, j] * deviations[j] + (i == j ? 1 : 0)).Cholesky();
            var scaled = deviations.PointwiseMultiply(pull);
            return ofLots + (scaled * inner.Solve(scaled) - inner.DeterminantLn) / 2;
        }
    }
}
