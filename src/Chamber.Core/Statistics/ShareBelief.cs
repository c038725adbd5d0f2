using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Statistics;

/// <summary>
/// What is believed of a share: the beta distribution with a + b seeds' worth of weight behind it. A count adds to it
/// (Bayes' rule for a binomial count). Equality is by both numbers. The default value believes nothing and must not be used.
/// </summary>
public readonly record struct ShareBelief
{
    /// <summary>Step on the log odds: tails of binomial counts of some thousand are smooth on this scale.</summary>
    private const double FinestFunction = 0.05;

    private const double Negligible = 1e-17;

    /// <param name="good">a, positive: seeds' worth of belief that one comes up.</param>
    /// <param name="bad">b, positive: seeds' worth of belief that one doesn't.</param>
    /// <exception cref="ArgumentOutOfRangeException">One of the two isn't a positive number.</exception>
    public ShareBelief(double good, double bad)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(good);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(bad);
        (Good, Bad) = (good, bad);
    }

    /// <summary>a of the distribution.</summary>
    public double Good { get; }

    /// <summary>b of the distribution.</summary>
    public double Bad { get; }

    /// <summary>The expected share: what the next seed does on average.</summary>
    public double Mean => Good / (Good + Bad);

    /// <summary>How many seeds' worth of evidence stands behind it.</summary>
    public double Weight => Good + Bad;

    /// <summary>The belief with a mean and a weight; the mean is kept half a seed away from none and from all.</summary>
    /// <param name="mean">0 to 1.</param>
    /// <param name="weight">Seeds' worth, above 1.</param>
    public static ShareBelief Around(double mean, double weight)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(weight, 1);
        var good = Math.Clamp(mean * weight, 0.5, weight - 0.5);
        return new(good, weight - good);
    }

    /// <summary>The belief after a count.</summary>
    public ShareBelief After(SeedCount count) => new(Good + count.Up, Bad + count.Seeds - count.Up);

    /// <summary>The share that lies above so much of the belief.</summary>
    /// <param name="probability">0 to 1.</param>
    public double Quantile(double probability) => Beta.InvCDF(Good, Bad, probability);

    /// <summary>The middle <paramref name="level"/> of the belief around its mean.</summary>
    public ShareInterval Interval(double level = 0.8) => new(Quantile((1 - level) / 2), Mean, Quantile((1 + level) / 2));

    /// <summary>
    /// The chance that at least so many of so many seeds come up (beta-binomial): ∫ P(X ≥ k | n, p) dBeta(p).
    /// J. G. Skellam, J. R. Stat. Soc. B 10 (1948) 257-261.
    /// </summary>
    /// <param name="wanted">k; 0 or fewer is certain.</param>
    /// <param name="seeds">n.</param>
    public double ChanceOfAtLeast(int wanted, int seeds)
    {
        if (wanted <= 0)
        {
            return 1;
        }

        var sum = 0.0;
        for (var up = wanted; up <= seeds; up++)
        {
            sum += Math.Exp(SpecialFunctions.BinomialLn(seeds, up)
                + SpecialFunctions.BetaLn(Good + up, Bad + seeds - up)
                - SpecialFunctions.BetaLn(Good, Bad));
        }

        return Math.Min(sum, 1);
    }

    /// <summary>
    /// The mean of a function of the share under the belief: the trapezoid rule on the log odds x, where the density is
    /// analytic and falls off exponentially at both ends, so the rule converges exponentially: L. N. Trefethen and
    /// J. A. C. Weideman, "The exponentially convergent trapezoidal rule", SIAM Review 56 (2014) 385-458, theorem 5.1.
    /// </summary>
    internal double MeanOf(Func<double, double> function)
    {
        var (a, b) = (Good, Bad);
        var mode = Math.Log(a / b);
        var step = Math.Min(Math.Sqrt(1 / a + 1 / b) / 2, FinestFunction);
        var peak = LogDensity(mode);
        var (sum, weights) = (0.0, 0.0);
        Add(0);
        for (var i = 1; Add(i); i++)
        {
        }

        for (var i = -1; Add(i); i--)
        {
        }

        return sum / weights;

        bool Add(int i)
        {
            var odds = mode + i * step;
            var weight = Math.Exp(LogDensity(odds) - peak);
            sum += weight * function(1 / (1 + Math.Exp(-odds)));
            weights += weight;
            return weight > Negligible;
        }

        double LogDensity(double odds) => odds < 0
            ? a * odds - (a + b) * Math.Log(1 + Math.Exp(odds))
            : -b * odds - (a + b) * Math.Log(1 + Math.Exp(-odds));
    }
}
