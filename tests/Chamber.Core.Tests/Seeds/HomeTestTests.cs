using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Core.Tests.Seeds;

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
        Assert.Equal(58, SampleSize.ToKnowWithin(0.8, 0.1), 3.0);
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
