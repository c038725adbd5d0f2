using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>The chance of 5 % is the program's own, no source; the day is asked of SciPy in PosteriorOracleTests.</summary>
public class StopWaitingTests
{
    [Fact]
    public void Waiting_ends_when_silence_has_made_one_more_seedling_unlikely()
    {
        var now = Ask(20, 9, (8, 0));
        var stop = now.Stop.After!.Value.TotalDays;
        var onThatDay = Ask(20, stop, (8, 0), (stop, 0));

        Assert.False(now.Stop.IsDue);
        Assert.InRange(stop, 15, 40);
        Assert.Equal(0.05, onThatDay.ChanceOfMore, 0.005);
        Assert.True(Ask(20, stop + 0.3, (8, 0), (stop + 0.3, 0)).Stop.IsDue);
        Assert.InRange(now.ChanceOfMore, 0.8, 0.95);
    }

    [Fact]
    public void When_all_are_up_there_is_nothing_to_wait_for() =>
        Assert.True(Ask(20, 15, (8, 3), (14, 12)).Stop is { AllUp: true, NeedsLook: false });

    [Theory]
    [InlineData(9.5, true)]
    [InlineData(20, false)]
    public void A_spot_that_will_not_bring_the_warmth_in_three_weeks_is_slow(double celsius, bool slow) =>
        Assert.Equal(slow, Ask(celsius, 12, (11, 0)).Stop.IsSlow);

    [Theory]
    [InlineData(0)]
    [InlineData(7)]
    public void Silence_that_nobody_saw_is_no_reason_to_stop(int up)
    {
        var unseen = up == 0 ? Ask(20, 45) : Ask(20, 45, (10, up));
        var seen = up == 0 ? Ask(20, 45, (44.5, 0)) : Ask(20, 45, (10, up), (44.5, up));

        Assert.True(unseen.Stop is { IsDue: false, NeedsLook: true });
        Assert.True(seen.Stop is { IsDue: true, NeedsLook: false });
        Assert.True(unseen.ChanceOfMore > 0.05);
    }

    [Theory]
    [InlineData(0, 13.5, true)]
    [InlineData(0, 14.5, false)]
    [InlineData(7, 14.5, false)]
    public void A_look_two_weeks_ago_is_no_reason_to_stop(int up, double ago, bool isDue)
    {
        var seen = up == 0 ? Ask(20, 45 + ago, (45, 0)) : Ask(20, 45 + ago, (10, up), (45, up));

        Assert.Equal((isDue, !isDue), (seen.Stop.IsDue, seen.Stop.NeedsLook));
    }

    // Six years old and one in four expected: the usual days of melon go to ten (the catalog's, from several extension tables).
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.25)]
    public void An_old_melon_is_not_given_up_before_its_usual_days_are_over(double share)
    {
        var melon = Some.Crop("melon");
        var forecast = CropForecast.AtSteady(new(melon, 12) { Germinable = ShareBelief.Around(share, 4) }, Celsius(22));

        Assert.True(forecast.Stop.After!.Value.TotalDays >= melon.Guide!.TypicalDays!.Value.High,
            $"{forecast.Stop.After.Value.TotalDays:0.0} {forecast.First.High!.Value.TotalDays:0.0} "
            + $"{forecast.Most.High!.Value.TotalDays:0.0}");
    }

    // Warm-hours at the look and warm-hours now are the same to the last digit but one.
    [Fact]
    public void A_look_at_this_very_moment_is_one_on_that_day() =>
        Assert.All(Enumerable.Range(0, 40).Select(i => 40 + 0.371 * i),
            day => Assert.True(Ask(20, day, (10, 7), (day, 7)).Stop.IsDue, $"{day}"));

    [Fact]
    public void The_day_to_stop_stands_once_it_has_come() =>
        Assert.Equal(Ask(20, 45, (44, 0)).Stop.After!.Value.TotalDays, Ask(20, 60, (59, 0)).Stop.After!.Value.TotalDays, 0.1);

    // A lot that is in much doubt probably never comes up: the day must still give its few the time that they need.
    [Theory]
    [InlineData(0.5)]
    [InlineData(0.1)]
    [InlineData(0.05)]
    public void Seed_in_much_doubt_is_waited_for_as_long_as_it_needs(double lot)
    {
        var doubtful = Ask(20, 1, lot);
        var few = Forecaster.Forecast(Prior(lot) with { Failing = 0 }, Standing(20, 1));

        Assert.True(doubtful.Stop.After >= few.First.High, $"{doubtful.Stop.After} is before {few.First.High}");
    }

    [Fact]
    public void A_stricter_chance_waits_longer()
    {
        var strict = Forecaster.Forecast(Prior(0.85), Standing(20, 9, (8, 0)), 0.01);

        Assert.True(strict.Stop.After > Ask(20, 9, (8, 0)).Stop.After);
    }

    [Fact]
    public void A_late_look_with_nothing_moves_the_window_on_and_lowers_the_stand()
    {
        var before = Ask(20, 7);
        var after = Ask(20, 12, (11.9, 0));

        Assert.True(after.Half.Mid > before.Half.Mid);
        Assert.True(after.First.Low!.Value.TotalDays >= 11.9);
        Assert.True(after.Stand.Low <= before.Stand.Low);
    }

    [Fact]
    public void The_first_that_was_seen_lies_between_the_looks_that_bound_it()
    {
        var forecast = Ask(20, 10, (7, 0), (8, 2), (9.5, 4));

        Assert.InRange(forecast.First.Low!.Value.TotalDays, 7, 8);
        Assert.InRange(forecast.First.High!.Value.TotalDays, 7, 8);
        Assert.Equal(1, forecast.ChanceFirstUp);
        Assert.True(forecast.StandLow >= 4);
    }

    private static EmergenceForecast Ask(double celsius, double day, params (double Day, int Up)[] looks) => Ask(celsius, day, 0.85, looks);

    private static EmergenceForecast Ask(double celsius, double day, double lot, params (double Day, int Up)[] looks) =>
        Forecaster.Forecast(Prior(lot), Standing(celsius, day, looks));

    private static EmergencePrior Prior(double lot) =>
        HomeKnowledge.Nothing.PriorFor(new BatchKind(Tomato.Id, Tomato.Profile, SowingMethod.CoveredMix, null),
            ShareBelief.Around(lot, 10));

    private static Situation Standing(double celsius, double day, params (double Day, int Up)[] looks)
    {
        var cardinals = Tomato.Profile.Cardinals;
        return new(
            Start,
            AfterDays(day),
            12,
            EmergenceEvent.ShootSeen,
            [.. looks.Select(look => new Look(AfterDays(look.Day), look.Up))],
            WarmthCourse.Steady(cardinals, Celsius(celsius), new Interval(Start, AfterDays(day))),
            WarmthOutlook.Steady(cardinals, Celsius(celsius)));
    }
}
