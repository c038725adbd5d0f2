using System.Globalization;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using Chamber.Testing;

namespace Chamber.Core.Tests.Seeds;

/// <summary>Days of the counts against 7 CFR 201.58; what makes a test fair is common practice, no source, and the program's own.</summary>
public class HomeTestTests
{
    [Theory]
    [InlineData("tomato", 5, 14)]
    [InlineData("pepper-sweet", 6, 14)]
    [InlineData("cucumber", 3, 7)]
    [InlineData("carrot", 6, 14)]
    [InlineData("parsley", 11, 28)]
    public void A_test_is_called_on_the_day_of_the_federal_rule(string crop, int first, int final)
    {
        // 7 CFR 201.58, table 2.
        var test = HomeTest.Plan(Some.Crop(crop), TestQuestion.Rate, 100);
        Assert.Equal((20, first, final), (test.Seeds, test.FirstCountDay, test.FinalCountDay));
    }

    [Fact]
    public void No_more_than_half_of_what_is_left_is_tested()
    {
        var test = HomeTest.Plan(Some.Crop("tomato"), TestQuestion.WorthGrowingFrom, 12);
        Assert.Equal(6, test.Seeds);
        Assert.Contains(test.Advice, line => line.StartsWith("Few seeds", StringComparison.Ordinal));
    }

    [Fact]
    public void More_seeds_know_more()
    {
        var crop = Some.Crop("tomato");
        Assert.True(HomeTest.Plan(crop, TestQuestion.AliveOrDead, 100).Within > HomeTest.Plan(crop, TestQuestion.Rate, 100).Within);
    }

    // The program's own rule, to notice change: the interval of Wilson (1927) for eight in ten. SciPy is asked for the intervals below.
    [Fact]
    public void To_know_eight_in_ten_within_ten_points_takes_sixty_seeds() => Assert.Equal(60, SampleSize.ToKnowWithin(0.8, 0.1));

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Sixty_is_the_first_count_of_fives_whose_interval_is_narrow_enough()
    {
        var widths = await Oracle.SciPy("""
            from scipy.stats import binomtest
            for n in (55, 60):
                ends = binomtest(n * 4 // 5, n).proportion_ci(0.95, 'wilson')
                print((ends.high - ends.low) / 2)
            """);
        var (fiftyFive, sixty) = widths.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.Parse(text, CultureInfo.InvariantCulture)).ToArray() is [var one, var two] ? (one, two) : default;
        Assert.True(fiftyFive > 0.1 && sixty <= 0.1, widths);
    }

    [Fact]
    public void A_test_goes_on_while_more_may_come()
    {
        var test = HomeTest.Plan(Some.Crop("tomato"), TestQuestion.Rate, 100);
        Assert.False(test.MayBeCalled(new(12, 20), days: 6, quietDays: 1, expectedDays: 4));
        Assert.True(test.MayBeCalled(new(20, 20), days: 6, quietDays: 0, expectedDays: 4));
        Assert.True(test.MayBeCalled(new(12, 20), days: 10, quietDays: 5, expectedDays: 4));
        Assert.True(test.MayBeCalled(new(0, 20), days: 14, quietDays: 14, expectedDays: null));
        Assert.False(test.MayBeCalled(new(0, 20), days: 10, quietDays: 10, expectedDays: 4));
    }

    [Fact]
    public void Twelve_hours_above_the_hot_limit_is_no_fair_test_for_lettuce()
    {
        var judged = FairTest.Judge(Some.Crop("lettuce"), new(0, 12, 100, 0));
        Assert.Equal(Fairness.TooHot, judged.Verdict);
        Assert.False(judged.MayBlameSeed);
        Assert.Contains("12 h above", judged.Because, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cool_spot_is_slow_and_a_blind_one_unknown()
    {
        var crop = Some.Crop("pepper-sweet");
        Assert.Equal(Fairness.TooCool, FairTest.Judge(crop, new(60, 0, 100, 0)).Verdict);
        Assert.Equal(Fairness.Unknown, FairTest.Judge(crop, new(0, 0, 10, 90)).Verdict);
        Assert.Equal(Fairness.Unknown, FairTest.Judge(crop, new(0, 0, 0, 0)).Verdict);
        Assert.Equal(Fairness.Fair, FairTest.Judge(crop, new(3, 1, 100, 5)).Verdict);
    }
}
