namespace Chamber.Core.Forecasts;

/// <summary>How many of the seeds that are not up yet will still come up.</summary>
internal static class RemainingCounts
{
    /// <summary>Nothing likelier than this share of the likeliest count is left out.</summary>
    private const double Negligible = 1e-14;

    /// <summary>
    /// Fills in the chance of each count for one cell, together with the cell's weight: a mixture of binomials over the germinable
    /// share, each with the chance G (1 - F)/(1 - G F) that a seed which is not up by now is only late.
    /// </summary>
    /// <param name="chances">The chance of each count, 0 to the seeds that are not up; overwritten.</param>
    /// <param name="cell">The cell.</param>
    /// <param name="germinable">Its germinable shares.</param>
    /// <param name="upByLast">F at the last look.</param>
    /// <param name="reached">The share of the late ones for which there will ever be warmth enough, 0 to 1.</param>
    public static void Fill(double[] chances, BeliefCell cell, double[] germinable, double upByLast, double reached)
    {
        Array.Clear(chances);
        Span<double> own = chances.Length <= 256 ? stackalloc double[chances.Length] : new double[chances.Length];
        for (var k = 0; k < germinable.Length; k++)
        {
            var weight = cell.Weights[k];
            if (weight < Negligible)
            {
                continue;
            }

            var share = germinable[k];
            var late = reached * share * (1 - upByLast) / (1 - share * upByLast);
            if (late <= 0)
            {
                chances[0] += weight;
                continue;
            }

            var (from, to, sum) = Binomial(own, late);
            for (var r = from; r <= to; r++)
            {
                chances[r] += weight * own[r] / sum;
            }
        }
    }

    /// <summary>
    /// Binomial chances up to a common factor, outward from the likeliest count, which neither underflows nor needs a logarithm.
    /// </summary>
    internal static (int From, int To, double Sum) Binomial(Span<double> chances, double share)
    {
        var tries = chances.Length - 1;
        var mode = Math.Min(tries, (int)((tries + 1) * share));
        chances[mode] = 1;
        var sum = 1.0;
        var odds = share / (1 - share);
        var to = mode;
        while (to < tries && chances[to] > Negligible)
        {
            chances[to + 1] = chances[to] * odds * (tries - to) / (to + 1);
            sum += chances[++to];
        }

        var from = mode;
        while (from > 0 && chances[from] > Negligible)
        {
            chances[from - 1] = chances[from] / odds * from / (tries - from + 1);
            sum += chances[--from];
        }

        return (from, to, sum);
    }
}
