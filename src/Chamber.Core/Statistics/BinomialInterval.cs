using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Statistics;

/// <summary>Intervals for the share behind a count.</summary>
public static class BinomialInterval
{
    /// <summary>
    /// The score interval: solves |p̂ - p| = z √(p(1-p)/n) for p. E. B. Wilson, "Probable inference, the law of succession, and
    /// statistical inference", J. Am. Stat. Assoc. 22 (1927) 209-212; R. G. Newcombe, Stat. Med. 17 (1998) 857-872, method 3.
    /// </summary>
    /// <param name="count">What was counted.</param>
    /// <param name="level">How often the interval holds the true share: above 0, below 1.</param>
    public static ShareInterval Wilson(SeedCount count, double level = 0.95)
    {
        var z = NormalDeviate(level);
        var n = (double)count.Seeds;
        var p = count.Share;
        var middle = (2 * count.Up + z * z) / (2 * (n + z * z));
        var half = z * Math.Sqrt(z * z + 4 * n * p * (1 - p)) / (2 * (n + z * z));
        return new(count.Up == 0 ? 0 : middle - half, p, count.Up == count.Seeds ? 1 : middle + half);
    }

    /// <summary>
    /// The exact interval: never holds the true share less often than <paramref name="level"/> says, and usually more often.
    /// C. J. Clopper and E. S. Pearson, "The use of confidence or fiducial limits illustrated in the case of the binomial", Biometrika 26
    /// (1934) 404-413.
    /// </summary>
    /// <param name="count">What was counted.</param>
    /// <param name="level">Above 0, below 1.</param>
    public static ShareInterval ClopperPearson(SeedCount count, double level = 0.95)
    {
        RequireLevel(level);
        var tail = (1 - level) / 2;
        var (up, not) = (count.Up, count.Seeds - count.Up);
        return new(
            up == 0 ? 0 : Beta.InvCDF(up, not + 1, tail),
            count.Share,
            not == 0 ? 1 : Beta.InvCDF(up + 1, not, 1 - tail));
    }

    /// <summary>The standard normal deviate that a two-sided interval of this level reaches to: 1.96 for 0.95.</summary>
    internal static double NormalDeviate(double level)
    {
        RequireLevel(level);
        return Math.Sqrt(2) * SpecialFunctions.ErfInv(level);
    }

    private static void RequireLevel(double level)
    {
        if (level is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(level), level, "A level lies between 0 and 1, as 0.95.");
        }
    }
}
