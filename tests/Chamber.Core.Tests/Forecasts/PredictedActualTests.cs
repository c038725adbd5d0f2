using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>Errors and spread of an invented batch, worked out by hand.</summary>
public class PredictedActualTests
{
    private static readonly Batch Ended = new(
        new BatchId("T1"), Tomato.Id, null, SowingMethod.CoveredMix, Start, 12, [], [Look(5, 0), Look(7, 2), Look(8, 5), Look(10, 9)],
            AfterDays(14));

    [Theory]
    [InlineData(6, 0)]
    [InlineData(5, 0)]
    [InlineData(7, 0)]
    [InlineData(4, -1)]
    [InlineData(9, 2)]
    public void The_error_is_zero_inside_the_observed_interval(double predicted, double error) =>
        Assert.Equal(error, PredictedActual.Of(Ended, Milestone.First, Days(predicted, predicted, predicted))!.ErrorDays, 1e-9);

    [Fact]
    public void Half_is_half_of_what_came_up_and_lies_between_two_looks()
    {
        var half = PredictedActual.Of(Ended, Milestone.Half, Days(6, 7.5, 9))!;
        var most = PredictedActual.Of(Ended, Milestone.Most, Days(8, 9, 9.5))!;

        Assert.Equal((7, 8), (half.After.TotalDays, half.By.TotalDays));
        Assert.Equal(1, half.Held);
        Assert.Equal((8, 10), (most.After.TotalDays, most.By.TotalDays));
        Assert.Equal(0.75, most.Held, 1e-9);
    }

    [Fact]
    public void A_batch_that_is_still_waited_for_proves_only_the_first()
    {
        var open = Ended with { EndedAt = null };

        Assert.NotNull(PredictedActual.Of(open, Milestone.First, Days(5, 6, 7)));
        Assert.Null(PredictedActual.Of(open, Milestone.Half, Days(5, 6, 7)));
    }

    [Theory]
    [InlineData(StageKind.Uncovered, false)]
    [InlineData(StageKind.MovedToLight, false)]
    [InlineData(StageKind.PrickedOut, true)]
    [InlineData(StageKind.PlantedOut, true)]
    public void What_is_pricked_out_or_further_on_is_judged_in_full(StageKind stage, bool isJudged)
    {
        var open = Ended with { EndedAt = null, Stages = [new(stage, AfterDays(12))] };

        Assert.Equal(isJudged, PredictedActual.Of(open, Milestone.Half, Days(5, 6, 7)) is not null);
    }

    [Fact]
    public void A_batch_of_which_nothing_came_up_proves_no_time() =>
        Assert.Null(PredictedActual.Of(Ended with { Looks = [Look(20, 0)] }, Milestone.First, Days(5, 6, 7)));

    [Fact]
    public void The_score_gives_bias_spread_and_how_often_the_intervals_held()
    {
        var score = PredictionScore.Of(
            [.. new[] { 4.0, 6, 9 }.Select(
                predicted => PredictedActual.Of(Ended, Milestone.First, Days(predicted - 1, predicted, predicted + 1))!)])!;

        Assert.Equal(3, score.Batches);
        Assert.Equal((-1 + 0 + 2) / 3.0, score.BiasDays, 1e-9);
        Assert.Equal(1, score.MedianErrorDays, 1e-9);
        Assert.Equal(Math.Sqrt(((4 / 3.0) * (4 / 3.0) + 1 / 9.0 + (5 / 3.0) * (5 / 3.0)) / 2), score.SpreadDays!.Value, 1e-9);
        Assert.Equal(1 / 3.0, score.Held, 1e-9);
        Assert.Equal(1, score.HeldBatches);
        Assert.Null(PredictionScore.Of([]));
    }

    [Fact]
    public void One_batch_has_no_spread() =>
        Assert.Null(PredictionScore.Of([PredictedActual.Of(Ended, Milestone.First, Days(5, 6, 7))!])!.SpreadDays);

    [Theory]
    [InlineData(6, 8, true)]
    [InlineData(6.1, 8, false)]
    [InlineData(4, 5.5, false)]
    [InlineData(8, 9, false)]
    public void An_interval_held_when_half_of_what_was_observed_lies_inside(double low, double high, bool held)
    {
        Assert.Equal(held, PredictedActual.Of(Ended, Milestone.First, Days(low, low, high))!.DidHold);
    }

    private static Look Look(double day, int up) => new(AfterDays(day), up);

    private static TimeEstimate Days(double low, double mid, double high) =>
        new(Duration.FromDays(low), Duration.FromDays(mid), Duration.FromDays(high), 1);
}
