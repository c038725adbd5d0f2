using MathNet.Numerics;
using MathNet.Numerics.RootFinding;

namespace Chamber.Core.Statistics;

/// <summary>
/// The exact test of two counts, given how many came up in all: R. A. Fisher, "The Design of Experiments" (1935), chapter 2.
/// </summary>
/// <param name="PValue">Two-sided: the chance, were the two the same, of a split no likelier than this one.</param>
/// <param name="OddsRatio">The conditional maximum likelihood estimate; 0 or infinite at the ends.</param>
/// <param name="OddsLow">Lower end of its exact 95 % interval.</param>
/// <param name="OddsHigh">Upper end; infinite at the end.</param>
public sealed record FisherExact(double PValue, double OddsRatio, double OddsLow, double OddsHigh)
{
    /// <summary>Two splits whose chances differ by less than rounding are equally likely.</summary>
    private const double Alike = 1 + 1e-7;

    private const double Tail = 0.025;

    /// <summary>Compares two counts.</summary>
    public static FisherExact Of(SeedCount first, SeedCount second)
    {
        var splits = new Splits(first.Seeds, second.Seeds, first.Up + second.Up);
        return new(
            TwoSided(splits, first.Up),
            splits.OddsWhere(first.Up, odds => splits.Mean(odds) - first.Up),
            first.Up == splits.Low ? 0 : Splits.Solve(odds => splits.AtLeast(first.Up, odds) - Tail),
            first.Up == splits.High ? double.PositiveInfinity : Splits.Solve(odds => Tail - splits.AtMost(first.Up, odds)));
    }

    /// <summary>The two-sided p-value alone.</summary>
    internal static double PValueOf(SeedCount first, SeedCount second) =>
        TwoSided(new Splits(first.Seeds, second.Seeds, first.Up + second.Up), first.Up);

    private static double TwoSided(Splits splits, int up)
    {
        var chances = splits.Chances(1);
        var seen = chances[up - splits.Low] * Alike;
        return Math.Min(1, chances.Where(chance => chance <= seen).Sum());
    }

    /// <summary>The ways to split <paramref name="up"/> seedlings over two samples (noncentral hypergeometric distribution).</summary>
    private sealed class Splits(int first, int second, int up)
    {
        public int Low { get; } = Math.Max(0, up - second);

        public int High { get; } = Math.Min(first, up);

        public double[] Chances(double odds)
        {
            var logs = new double[High - Low + 1];
            for (var i = 0; i < logs.Length; i++)
            {
                logs[i] = SpecialFunctions.BinomialLn(first, Low + i) + SpecialFunctions.BinomialLn(second, up - Low - i)
                    + i * Math.Log(odds);
            }

            var most = logs.Max();
            var weights = Array.ConvertAll(logs, log => Math.Exp(log - most));
            var total = weights.Sum();
            return Array.ConvertAll(weights, weight => weight / total);
        }

        public double Mean(double odds) => Chances(odds).Select((chance, i) => chance * (Low + i)).Sum();

        public double AtLeast(int count, double odds) => Chances(odds).Skip(count - Low).Sum();

        public double AtMost(int count, double odds) => Chances(odds).Take(count - Low + 1).Sum();

        public double OddsWhere(int count, Func<double, double> rising)
        {
            if (count == Low)
            {
                return 0;
            }

            return count == High ? double.PositiveInfinity : Solve(rising);
        }

        /// <summary>The root of a rising function of the odds, searched on the logarithm.</summary>
        public static double Solve(Func<double, double> rising) =>
            Math.Exp(Brent.FindRoot(log => rising(Math.Exp(log)), -60, 60, 1e-12, 500));
    }
}
