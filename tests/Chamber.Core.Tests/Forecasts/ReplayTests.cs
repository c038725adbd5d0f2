using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>A replay of an invented batch.</summary>
public class ReplayTests
{
    private static readonly Batch Batch = new(
        new BatchId("T1"), Tomato.Id, null, SowingMethod.CoveredMix, Start, 12, [],
            [Look(6.2, 0), Look(7.4, 2), Look(8.5, 6), Look(10, 10)], AfterDays(12));

    [Fact]
    public void Each_day_knows_only_the_looks_that_had_been()
    {
        var days = Run(Batch);
        var cut = Run(Batch with { Looks = [.. Batch.Looks.Take(2)], EndedAt = AfterDays(8) });

        Assert.Equal(13, days.Count);
        Assert.Equal([0, 0, 0, 0, 0, 0, 0, 0, 2, 6, 10, 10, 10], days.Select(day => day.Up));
        Assert.Equal(days.Take(9).Select(day => day.Forecast.Half), cut.Select(day => day.Forecast.Half));
    }

    [Fact]
    public void The_interval_of_half_narrows_as_the_batch_comes_up()
    {
        var days = Run(Batch);

        Assert.True(Width(days[^1]) < 0.5 * Width(days[0]));
    }

    private static double Width(ReplayDay day) => (day.Forecast.Half.High!.Value - day.Forecast.Half.Low!.Value).TotalDays;

    private static IReadOnlyList<ReplayDay> Run(Batch batch)
    {
        var cardinals = Tomato.Profile.Cardinals;
        var prior = HomeKnowledge.Nothing.PriorFor(BatchKind.Of(batch, Tomato.Profile), Germinability.UnknownLot);
        return Replay.Days(
            batch, prior, WarmthCourse.Steady(cardinals, Celsius(20), new Interval(Start, AfterDays(12))), _ =>
                WarmthOutlook.Steady(cardinals, Celsius(20)));
    }

    private static Look Look(double day, int up) => new(AfterDays(day), up);
}
