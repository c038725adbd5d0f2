namespace Chamber.Core.Seeds;

/// <summary>What to do with a lot.</summary>
public enum LotAdvice
{
    /// <summary>It has years left.</summary>
    Keep,

    /// <summary>This or the coming season is its last good one.</summary>
    UseFirst,

    /// <summary>Nobody knows how good it is: test some before relying on it.</summary>
    TestFirst,

    /// <summary>So little comes up that fresh seed is cheaper than the work.</summary>
    Replace,

    /// <summary>None left.</summary>
    Empty,
}

/// <summary>The order in which lots want to be used.</summary>
public static class UseFirst
{
    /// <summary>Under half is not worth the room. Rule of thumb of extension services and markets; common practice.</summary>
    private const double WorthSowing = 0.5;

    /// <summary>The least evidence (seeds' worth, the prior included) on which a lot past its life is relied on.</summary>
    private const double TestedWeight = LotBelief.PriorSeeds + 8;

    /// <summary>What to do with a lot of which so many seeds are left.</summary>
    public static LotAdvice Advise(LotBelief belief, int left)
    {
        ArgumentNullException.ThrowIfNull(belief);
        if (left == 0)
        {
            return LotAdvice.Empty;
        }

        var tested = belief.Share.Weight >= TestedWeight;
        return belief.YearsLeft switch
        {
            _ when tested && belief.Share.Mean < WorthSowing => LotAdvice.Replace,
            null => tested ? LotAdvice.UseFirst : LotAdvice.TestFirst,
            <= 0 when !tested => LotAdvice.TestFirst,
            < 1 => LotAdvice.UseFirst,
            _ => LotAdvice.Keep,
        };
    }

    /// <summary>A number to sort by: what has the least life left comes first, what has none left over comes last.</summary>
    public static double Rank(LotBelief belief, int left) =>
        left == 0 ? double.MaxValue : belief.YearsLeft ?? 0;
}
