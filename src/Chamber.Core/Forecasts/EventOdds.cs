namespace Chamber.Core.Forecasts;

/// <summary>
/// The chance, by warm-hours since the sowing, that each milestone is passed, given the belief and that the count at the last look
/// is what it is. Exact order statistics of the seeds still to come, mixed over how many those are and over the grid.
/// </summary>
internal sealed class EventOdds
{
    private const int WarmNodes = 96;
    private const double Reach = 5;

    private readonly double logFrom;
    private readonly double logStep;
    private readonly double[][] chances;

    private EventOdds(SeenCounts seen, double logFrom, double logStep, double[][] chances, double[] finalCounts)
    {
        Seen = seen;
        this.logFrom = logFrom;
        this.logStep = logStep;
        this.chances = chances;
        FinalCounts = finalCounts;
    }

    public SeenCounts Seen { get; }

    /// <summary>The chance of each count in all, from 0 to the seeds sown.</summary>
    public double[] FinalCounts { get; }

    /// <param name="belief">What is believed of the batch.</param>
    /// <param name="everWarmHours">The warm-hours since the sowing that it will ever have: what needs more never comes up.</param>
    public static EventOdds Of(EmergenceBelief belief, double everWarmHours)
    {
        var seen = belief.Seen;
        var rest = seen.Seeds - seen.Up;
        var (low, high) = Range(belief);
        var step = (high - low) / (WarmNodes - 1);
        var orders = new OrderTables(seen.Up, rest);
        var chances = Enum.GetValues<Milestone>().Select(_ => new double[WarmNodes]).ToArray();
        var counts = new double[seen.Seeds + 1];
        var more = new double[rest + 1];
        var last = seen.LastWarmHours > 0 ? Math.Log(seen.LastWarmHours) : double.NegativeInfinity;
        foreach (var cell in belief.Cells)
        {
            var upByLast = cell.UpBy(last);
            var ever = everWarmHours > seen.LastWarmHours ? ShareSince(cell, Math.Log(everWarmHours), upByLast) : 0;
            RemainingCounts.Fill(more, cell, belief.GerminableNodes, upByLast, ever);
            for (var r = 0; r <= rest; r++)
            {
                counts[seen.Up + r] += more[r];
            }

            orders.Mix(more);
            for (var i = 0; i < WarmNodes; i++)
            {
                orders.AddTo(chances, i, ever > 0 ? Math.Min(1, ShareSince(cell, low + i * step, upByLast) / ever) : 1);
            }
        }

        return new(seen, low, step, chances, counts);
    }

    /// <summary>The chance that a milestone is passed by this many warm-hours, for warm-hours at or after the last look.</summary>
    public double At(Milestone milestone, double warmHours)
    {
        var course = chances[(int)milestone];
        if (warmHours <= Seen.LastWarmHours || warmHours <= 0)
        {
            return AtLastLook(milestone);
        }

        var at = (Math.Log(warmHours) - logFrom) / logStep;
        if (at <= 0)
        {
            return course[0];
        }

        if (at >= WarmNodes - 1)
        {
            return course[^1];
        }

        var whole = (int)at;
        return course[whole] + (at - whole) * (course[whole + 1] - course[whole]);
    }

    /// <summary>The chance that it was passed by the last look.</summary>
    public double AtLastLook(Milestone milestone) => AtCount(milestone, Seen.Up);

    /// <summary>The chance that so many up are enough.</summary>
    public double AtCount(Milestone milestone, int up)
    {
        var sum = 0.0;
        for (var final = 1; final < FinalCounts.Length; final++)
        {
            sum += up >= milestone.Needed(final, Seen.Up) ? FinalCounts[final] : 0;
        }

        return sum;
    }

    /// <summary>
    /// The chance that it is passed at a moment between two looks at which so many were up, when a share of those that came up in
    /// between is expected to be up by then.
    /// </summary>
    public double Between(Milestone milestone, int upBefore, int upAfter, double share)
    {
        Span<double> own = new double[upAfter - upBefore + 1];
        var (from, to, sum) = share is > 0 and < 1 ? RemainingCounts.Binomial(own, share) : (0, -1, 1);
        if (to < 0)
        {
            return AtCount(milestone, share >= 1 ? upAfter : upBefore);
        }

        var chance = 0.0;
        for (var up = from; up <= to; up++)
        {
            chance += own[up] / sum * AtCount(milestone, upBefore + up);
        }

        return chance;
    }

    /// <summary>The chance that it is ever passed.</summary>
    public double Ever(Milestone milestone) =>
        FinalCounts.Skip(milestone == Milestone.Next ? Seen.Up + 1 : 1).Sum();

    /// <summary>The smallest count that is reached or undercut with a given probability.</summary>
    public int CountQuantile(double probability)
    {
        var (sum, all) = (0.0, FinalCounts.Sum());
        for (var count = 0; count < FinalCounts.Length; count++)
        {
            sum += FinalCounts[count];
            if (sum >= probability * all)
            {
                return count;
            }
        }

        return FinalCounts.Length - 1;
    }

    /// <summary>Of the seeds that were late at the last look, the share up by this many warm-hours.</summary>
    private static double ShareSince(BeliefCell cell, double logWarmHours, double upByLast) =>
        upByLast >= 1 ? 1 : Math.Clamp((cell.UpBy(logWarmHours) - upByLast) / (1 - upByLast), 0, 1);

    private static (double Low, double High) Range(EmergenceBelief belief)
    {
        var (mean, deviation) = belief.LogHalf;
        var square = belief.Cells.Sum(cell => cell.Weight * cell.Spread * cell.Spread);
        var reach = Reach * Math.Sqrt(deviation * deviation + square);
        var last = belief.Seen.LastWarmHours;
        var low = last > 0 ? Math.Max(Math.Log(last), mean - reach) : mean - reach;
        return (low, Math.Max(low + 0.5, mean + reach));
    }
}
