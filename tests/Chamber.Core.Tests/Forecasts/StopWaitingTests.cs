using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>The chance of 5 % is the program's own, no source; the batches are invented.</summary>
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
        Assert.Equal(SilenceReason.AllUp, Ask(20, 15, (8, 3), (14, 12)).Stop.Reason);

    [Theory]
    [InlineData(9.5, 0.85, SilenceReason.ColdSpot)]
    [InlineData(20, 0.4, SilenceReason.WeakLot)]
    [InlineData(20, 0.85, SilenceReason.Late)]
    public void The_reason_of_silence_is_the_cold_the_lot_or_only_the_time(double celsius, double lot, SilenceReason reason) =>
        Assert.Equal(reason, Ask(celsius, 25, lot, (24, 0)).Stop.Reason);

    [Fact]
    public void Sound_seed_at_a_temperature_that_keeps_it_down_is_not_called_doubtful()
    {
        var hot = Forecaster.Forecast(Prior(0.4) with { SeedShare = 0.85 }, Standing(20, 25, (24, 0)));

        Assert.Equal(SilenceReason.WrongTemperature, hot.Stop.Reason);
        Assert.Contains("ideal band", hot.Stop.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cold_spot_is_advice_to_move_the_batch_rather_than_to_wait() =>
        Assert.Contains("move", Ask(9.5, 25, (24, 0)).Stop.Advice, StringComparison.OrdinalIgnoreCase);

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
        HomeKnowledge.Nothing.PriorFor(new BatchKind(Tomato.Id, Tomato.Profile, SowingMethod.CoveredMix, null), ShareBelief.Around(lot, 10));

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
