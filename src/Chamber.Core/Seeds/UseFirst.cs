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

    /// <summary>What to do with a lot of which so many seeds are left.</summary>
    /// <param name="belief">What is believed of it.</param>
    /// <param name="left">Seeds left.</param>
    /// <param name="replaceable">Whether the same seed can be bought again, or its own test has shown that it is past use: saved seed
    /// is not thrown out without one.</param>
    public static LotAdvice Advise(LotBelief belief, int left, bool replaceable = true)
    {
        ArgumentNullException.ThrowIfNull(belief);
        if (left == 0)
        {
            return LotAdvice.Empty;
        }

        return belief switch
        {
            { IsTested: true } when belief.Share.Mean < WorthSowing => replaceable ? LotAdvice.Replace : LotAdvice.TestFirst,
            { YearsGood: null } => belief.IsTested ? LotAdvice.UseFirst : LotAdvice.TestFirst,
            { YearsGood: <= 0, IsTested: false } => LotAdvice.TestFirst,
            { YearsGood: < 1 } => LotAdvice.UseFirst,
            _ => LotAdvice.Keep,
        };
    }

    /// <summary>A number to sort by: what has the least life left comes first, what has none left over comes last.</summary>
    public static double Rank(LotBelief belief, int left) =>
        left == 0 ? double.MaxValue : belief.YearsLeft ?? 0;
}
