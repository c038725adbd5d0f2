using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Testing;

namespace Chamber.Core.Tests.Alerts;

/// <summary>No start changes what is open or what people are told: a month in which the watch stops and starts again is the month without a
/// stop.</summary>
public sealed class RestartTests
{
    private static readonly Lazy<RestartedMonth> Whole = new(() => RestartedMonth.Live(seed: null));

    [Theory]
    [Trait(Tier.Name, Tier.Whole)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_month_with_stops_tells_what_it_tells_without(int seed)
    {
        var stopped = RestartedMonth.Live(seed);

        Assert.Equal(Whole.Value.Text, stopped.Text);
    }

    [Fact]
    public void The_month_shows_most_conditions_or_it_would_prove_little()
    {
        var kinds = Whole.Value.Ledger.Select(alert => alert.Kind).ToHashSet();

        AlertKind[] absent = [AlertKind.TooWet, AlertKind.Swinging, AlertKind.SurveyStale];
        Assert.Equal(absent.Order(ConditionRegistry.Order), ConditionRegistry.Kinds.Where(kind => !kinds.Contains(kind)));
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void A_start_at_each_hour_of_a_bad_day_says_nothing_new()
    {
        var often = RestartedMonth.Live(seed: 5, stopsADay: 24, days: 16);

        Assert.Equal(RestartedMonth.Live(seed: null, days: 16).Text, often.Text);
    }
}
