using Chamber.Core.Statistics;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Forecasts.Together;

/// <summary>
/// Where the pull of a home is cut. Its square, each term over the variance in which homes differ, is a sum of squares that is taken for a
/// multiple of chi-square with the same mean and variance (F.E. Satterthwaite, Biometrics Bulletin 2 (1946) 110-114).
/// </summary>
/// <param name="Most">The most that the root of the square may be.</param>
/// <param name="Share">What is left of the mean of the square when larger ones are cut.</param>
internal readonly record struct PullBound(double Most, double Share)
{
    public static PullBound None { get; } = new(double.PositiveInfinity, 1);

    /// <param name="mean">The mean of the square.</param>
    /// <param name="variance">Its variance.</param>
    /// <param name="uncut">How many are not cut, below 1.</param>
    public static PullBound Of(double mean, double variance, double uncut)
    {
        if (uncut >= 1 || mean <= 0)
        {
            return None;
        }

        var freedom = 2 * mean * mean / variance;

        // E.B. Wilson and M.M. Hilferty, PNAS 17 (1931) 684-688.
        var at = freedom * Math.Pow(Math.Max(0.01,
            1 - 2 / (9 * freedom) + StandardNormal.Quantile(uncut) * Math.Sqrt(2 / (9 * freedom))), 3);
        var share = ChiSquared.CDF(freedom + 2, at) + at / freedom * (1 - ChiSquared.CDF(freedom, at));
        return new(Math.Sqrt(at * mean / freedom), share);
    }
}
