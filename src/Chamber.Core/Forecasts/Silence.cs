namespace Chamber.Core.Forecasts;

/// <summary>
/// What it means when no further seedling shows: for each cell of the grid, the chance that none of the remaining seeds has come up by
/// so many warm-hours, ∫ ((1 - G F)/(1 - G F(last)))^rest.
/// </summary>
/// <remarks>
/// Two things must be unlikely before waiting ends: that one more comes, and that a seed which comes up at all is that late. Of seed in
/// much doubt the first is soon true, since probably none ever comes; but waiting costs little, and its few may still be on their way.
/// </remarks>
internal sealed class Silence
{
    /// <summary>More warm-hours than this many times the last amount, and the middle of the belief, change nothing.</summary>
    private const double FactorMax = 60;

    private const int Halvings = 15;

    private readonly EmergenceBelief ground;
    private readonly double logGround;
    private readonly double logNow;
    private readonly int rest;
    private readonly bool isSilent;

    /// <param name="prior">What was believed before the sowing.</param>
    /// <param name="belief">What is believed now.</param>
    public Silence(EmergencePrior prior, EmergenceBelief belief)
    {
        var seen = belief.Seen;
        rest = seen.Seeds - seen.Up;
        isSilent = seen.Up == 0;

        // Where nothing is up, silence so far and silence to come are one stretch, which is taken from the sowing on: the grid of today
        // lies around today's weight and is too narrow for the tail into which further silence drives it.
        ground = isSilent ? EmergenceBelief.After(prior, SeenCounts.Nothing(seen.Seeds)) : belief;
        logGround = isSilent || seen.LastWarmHours <= 0 ? double.NegativeInfinity : Math.Log(seen.LastWarmHours);
        logNow = Math.Log(Math.Max(seen.LastWarmHours, 1));
    }

    /// <summary>
    /// The warm-hours since the sowing at which silence has brought the chance of one more seedling down to a level, and no more than that
    /// share of the seeds that come up at all is later.
    /// </summary>
    public double WarmHoursUntil(double stopBelow)
    {
        var noneEver = NoneBy(double.PositiveInfinity);
        var low = isSilent ? 0 : logNow;
        var high = Math.Max(logNow, ground.LogHalf.Mean) + Math.Log(FactorMax);
        if (IsEnough(low))
        {
            return Math.Exp(low);
        }

        for (var halving = 0; halving < Halvings; halving++)
        {
            var middle = (low + high) / 2;
            (low, high) = IsEnough(middle) ? (low, middle) : (middle, high);
        }

        return Math.Exp(high);

        bool IsEnough(double logWarmHours)
        {
            var noneYet = NoneBy(logWarmHours);
            return noneEver >= (1 - stopBelow) * noneYet && LateBy(logWarmHours) <= stopBelow;
        }
    }

    private double LateBy(double logWarmHours) => 1 - ground.Cells.Sum(cell => cell.Weight * cell.UpBy(logWarmHours));

    private double NoneBy(double logWarmHours)
    {
        var sum = 0.0;
        var shares = ground.GerminableNodes;
        foreach (var cell in ground.Cells)
        {
            var (before, by) = (cell.UpBy(logGround), cell.UpBy(logWarmHours));
            for (var k = 0; k < shares.Length; k++)
            {
                sum += cell.Weights[k] * Power((1 - shares[k] * by) / (1 - shares[k] * before), rest);
            }
        }

        return sum;
    }

    /// <summary>A whole power by squaring: a quarter of the time of the general one.</summary>
    private static double Power(double value, int exponent)
    {
        var result = 1.0;
        for (; exponent > 0; exponent >>= 1)
        {
            result *= (exponent & 1) == 1 ? value : 1;
            value *= value;
        }

        return result;
    }
}
