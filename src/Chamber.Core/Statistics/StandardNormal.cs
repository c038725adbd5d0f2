using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Statistics;

/// <summary>The standard normal distribution, kept exact in both tails.</summary>
internal static class StandardNormal
{
    private const double InverseRootTwo = 0.70710678118654752440;

    /// <summary>Φ(z).</summary>
    public static double Cdf(double z) => 0.5 * SpecialFunctions.Erfc(-z * InverseRootTwo);

    /// <summary>Φ(z), or 1 - Φ(z) for a z above 0: the smaller of the two, exact however far out.</summary>
    public static double Tail(double z) => Cdf(-Math.Abs(z));

    /// <summary>Φ(to) - Φ(from), from the tail in which the two do not cancel.</summary>
    public static double Between(double from, double to) =>
        from > 0 ? Cdf(-from) - Cdf(-to) : Cdf(to) - Cdf(from);

    /// <summary>The z with Φ(z) = p, for p above 0 and below 1.</summary>
    public static double Quantile(double probability) => Normal.InvCDF(0, 1, probability);
}
