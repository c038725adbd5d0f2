using Chamber.Core.Statistics;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace Chamber.Core.Tests.Statistics;

public class FisherExactTests
{
    [Fact]
    public void The_lady_who_tastes_tea()
    {
        // R. A. Fisher, "The Design of Experiments" (1935), chapter 2; numbers as in Penn State STAT 504, lesson 4.5.
        var tea = FisherExact.Of(new(3, 4), new(1, 4));
        Assert.Equal(0.4857, tea.PValue, 5e-5);
        // R's own root is good to 1.2e-4 of the inverse; the exact value is 6.40832.
        Assert.Equal(6.408309, tea.OddsRatio, 2e-5);
        Assert.Equal(1.0 / 35, FisherExact.Of(new(4, 4), new(0, 4)).PValue, 1e-12);
    }

    [Fact]
    public void Eleven_of_fourteen_against_seven_of_fifteen_is_no_proof()
    {
        Assert.True(FisherExact.Of(new(11, 14), new(7, 15)).PValue > 0.05);
        Assert.True(ShareDifference.Of(new(11, 14), new(7, 15)).Holds(0));
    }

    [Fact]
    public void Nothing_up_anywhere_says_nothing()
    {
        var nothing = FisherExact.Of(new(0, 10), new(0, 12));
        Assert.Equal(1, nothing.PValue, 1e-12);
        Assert.Equal(0, nothing.OddsLow);
        Assert.Equal(double.PositiveInfinity, nothing.OddsHigh);
    }

    [Property]
    public Property Exchanging_the_two_turns_the_odds_over(byte a, byte b, byte c, byte d)
    {
        var first = new SeedCount(a % 20, a % 20 + b % 20 + 1);
        var second = new SeedCount(c % 20, c % 20 + d % 20 + 1);
        var (one, other) = (FisherExact.Of(first, second), FisherExact.Of(second, first));
        return (Math.Abs(one.PValue - other.PValue) < 1e-9
            && (one.OddsLow == 0 ? double.IsPositiveInfinity(other.OddsHigh) : Math.Abs(Math.Log(one.OddsLow * other.OddsHigh)) < 1e-6))
                .ToProperty();
    }

    [Fact]
    public void The_difference_has_the_published_interval()
    {
        // 56/70 less 48/80: R. G. Newcombe, Stat. Med. 17 (1998) 873-890, table II (a), method 10; recalled from memory, confirmed with R's
        // prop.test(correct = FALSE) for each share in ForeignStatisticsTests.
        var difference = ShareDifference.Of(new(56, 70), new(48, 80));
        Assert.Equal(0.2, difference.Mid, 1e-12);
        Assert.Equal(0.0524, difference.Low, 5e-5);
        Assert.Equal(0.3339, difference.High, 5e-5);
    }
}
