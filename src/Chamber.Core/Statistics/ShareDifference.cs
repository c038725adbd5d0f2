namespace Chamber.Core.Statistics;

/// <summary>By how much two shares differ.</summary>
public static class ShareDifference
{
    /// <summary>
    /// First less second, with the hybrid score interval: R. G. Newcombe, "Interval estimation for the difference between
    /// independent proportions: comparison of eleven methods", Stat. Med. 17 (1998) 873-890, method 10.
    /// </summary>
    public static ShareInterval Of(SeedCount first, SeedCount second, double level = 0.95)
    {
        var one = BinomialInterval.Wilson(first, level);
        var two = BinomialInterval.Wilson(second, level);
        var difference = first.Share - second.Share;
        return new(
            difference - double.Hypot(one.Mid - one.Low, two.High - two.Mid),
            difference,
            difference + double.Hypot(one.High - one.Mid, two.Mid - two.Low));
    }
}
