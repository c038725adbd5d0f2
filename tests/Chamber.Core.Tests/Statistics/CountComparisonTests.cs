using Chamber.Core.Statistics;

namespace Chamber.Core.Tests.Statistics;

/// <summary>Words for two counts; their numbers are asked of R and SciPy in ForeignStatisticsTests.</summary>
public class CountComparisonTests
{
    [Fact]
    public void Small_counts_get_honest_words()
    {
        var comparison = CountComparison.Of(new(11, 14), new(7, 15));
        Assert.False(comparison.IsProof);
        Assert.StartsWith("11 of 14 against 7 of 15 is no proof: chance alone would do this 13 times in 100;", comparison.Words,
            StringComparison.Ordinal);
        Assert.Equal((comparison.SeedsToSettle - 14, comparison.SeedsToSettle - 15),
            (comparison.MoreSeeds!.Value.First, comparison.MoreSeeds.Value.Second));
    }

    [Fact]
    public void A_clear_difference_is_called_one_and_wants_no_more_seed()
    {
        var comparison = CountComparison.Of(new(19, 20), new(8, 20));
        Assert.True(comparison.IsProof);
        Assert.Contains("is more than chance", comparison.Words, StringComparison.Ordinal);
        Assert.Equal((0, 0), comparison.MoreSeeds);
    }

    [Fact]
    public void Equal_counts_cannot_be_told_apart_by_any_number() =>
        Assert.Null(CountComparison.Of(new(5, 10), new(10, 20)).SeedsToSettle);
}
