namespace Chamber.Core.Statistics;

/// <summary>
/// Whether one group was quicker than another, from intervals: the log-rank test on Turnbull's estimate of both together (J. Sun, Stat.
/// Med. 15 (1996) 1387-1395), with the permutation variance of its scores (M.P. Fay, Biometrics 52 (1996) 811-822). With exact and
/// right-censored times its numerator is that of the ordinary log-rank test. It holds for groups that were looked at alike; it
/// assumes no shape.
/// </summary>
/// <param name="Seen">How many of the first group it happened for.</param>
/// <param name="Excess">Those less as many as were to be expected, were both alike: above 0 when the first is quicker.</param>
/// <param name="Z">Excess over its standard deviation.</param>
/// <param name="PValue">Two-sided, by the normal approximation; 1 when nothing can differ.</param>
public sealed record IntervalLogRank(double Seen, double Excess, double Z, double PValue)
{
    /// <exception cref="ArgumentException">A group is empty.</exception>
    public static IntervalLogRank Of(IReadOnlyList<CensoredCount> first, IReadOnlyList<CensoredCount> second)
    {
        double ones = first.Sum(count => count.Count), others = second.Sum(count => count.Count), all = ones + others;
        if (ones == 0 || others == 0)
        {
            throw new ArgumentException("A comparison needs something in both groups.", nameof(first));
        }

        CensoredCount[] both = [.. first, .. second];
        var estimate = TurnbullEstimate.Of(both);
        var excess = first.Sum(count => count.Count * estimate.Score(count));
        var square = both.Sum(count => count.Count * Math.Pow(estimate.Score(count), 2));
        var mean = both.Sum(count => count.Count * estimate.Score(count)) / all;
        var variance = all < 2 ? 0 : ones * others / (all * (all - 1)) * (square - all * mean * mean);
        var z = variance > 1e-12 ? excess / Math.Sqrt(variance) : 0;
        return new(
            first.Where(count => count.To is not null).Sum(count => count.Count), excess, z, z == 0 ? 1
                : 2 * StandardNormal.Cdf(-Math.Abs(z)));
    }
}
