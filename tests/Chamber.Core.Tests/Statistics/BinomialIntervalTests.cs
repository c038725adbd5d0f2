using Chamber.Core.Statistics;

namespace Chamber.Core.Tests.Statistics;

public class BinomialIntervalTests
{
    // The four examples of R. G. Newcombe, "Two-sided confidence intervals for the single proportion", Stat. Med. 17 (1998) 857-872,
    // table I; recalled from memory, and confirmed against R and SciPy in ForeignStatisticsTests.
    [Theory]
    [InlineData(81, 263, 0.2553, 0.3662, 0.2527, 0.3676)]
    [InlineData(15, 148, 0.0624, 0.1605, 0.0578, 0.1617)]
    [InlineData(0, 20, 0, 0.1611, 0, 0.1684)]
    [InlineData(1, 29, 0.0061, 0.1718, 0.0009, 0.1776)]
    public void The_published_examples_are_met(int up, int seeds, double scoreLow, double scoreHigh, double exactLow, double exactHigh)
    {
        var wilson = BinomialInterval.Wilson(new(up, seeds));
        var exact = BinomialInterval.ClopperPearson(new(up, seeds));
        Assert.Equal(scoreLow, wilson.Low, 5e-5);
        Assert.Equal(scoreHigh, wilson.High, 5e-5);
        Assert.Equal(exactLow, exact.Low, 5e-5);
        Assert.Equal(exactHigh, exact.High, 5e-5);
    }

    [Theory]
    [InlineData(8, 10, 0.4902, 0.9433)]
    [InlineData(9, 10, 0.5958, 0.9821)]
    [InlineData(17, 20, 0.6396, 0.9476)]
    [InlineData(42, 50, 0.7149, 0.9166)]
    public void A_home_test_says_as_much_as_its_size_allows(int up, int seeds, double low, double high)
    {
        // Computed apart from this program in plain Python.
        var wilson = BinomialInterval.Wilson(new(up, seeds));
        Assert.Equal(low, wilson.Low, 5e-5);
        Assert.Equal(high, wilson.High, 5e-5);
    }

    [Fact]
    public void A_count_outside_its_seeds_cannot_be_made() => Assert.Throws<ArgumentOutOfRangeException>(() => new SeedCount(11, 10));

    [Theory]
    [InlineData("11/10")]
    [InlineData("11")]
    [InlineData("-1/10")]
    [InlineData("1/0")]
    [InlineData("a/b")]
    public void A_count_that_makes_no_sense_is_refused_with_how_to_write_one(string text) =>
        Assert.Contains("as 11/14", Assert.Throws<FormatException>(() => SeedCount.Parse(text)).Message, StringComparison.Ordinal);
}
