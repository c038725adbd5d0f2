using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Batches;

/// <summary>What may be written down of a batch; the batches are invented.</summary>
public class BatchCheckTests
{
    [Fact]
    public void A_batch_that_moved_and_came_up_is_sound()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (5, 0), (7, 9)) with
        {
            Stays = [new(new("cupboard"), new Interval(Some.Sowing, Some.Day(7))), new(new("sill"), new Interval(Some.Day(7), null))],
            Stages = [new(StageKind.MovedToLight, Some.Day(7), 9)],
            Losses = [new(Some.Day(9), 2, LossCause.Eaten)],
        };
        Assert.Null(BatchCheck.Refuse(batch));
        Assert.Equal(7, BatchCheck.Alive(batch));
    }

    [Fact]
    public void Nothing_stands_in_two_places_at_once()
    {
        var batch = Some.Batch() with
        {
            Stays = [new(new("cupboard"), new Interval(Some.Sowing, null)), new(new("sill"), new Interval(Some.Day(7), null))],
        };
        Assert.Equal(
            "batch T3 cannot stand on cupboard and on sill at once: end the stay on cupboard first (a move does both).",
            BatchCheck.Refuse(batch));
    }

    [Fact]
    public void No_more_plants_are_handled_or_lost_than_came_up()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (7, 9));
        Assert.Contains("only 9 are up", BatchCheck.Refuse(batch with { Stages = [new(StageKind.PrickedOut, Some.Day(20), 10)] }),
            StringComparison.Ordinal);
        Assert.Contains("10 plants lost, but only 9", BatchCheck.Refuse(batch with { Losses = [new(Some.Day(20), 10, LossCause.Cold)] }),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_happens_before_the_sowing_and_only_towels_are_planted_from()
    {
        Assert.Contains("before it was sown", BatchCheck.Refuse(Some.Batch() with { Stages = [new(StageKind.Uncovered, Some.Day(-1))] }),
            StringComparison.Ordinal);
        Assert.Contains("not sown on a towel", BatchCheck.Refuse(Some.Batch() with { Stages = [new(StageKind.TowelPlanted, Some.Day(3))] }),
            StringComparison.Ordinal);
        Assert.Contains("before it was sown",
            BatchCheck.Refuse(Some.Batch() with { Stays = [new(new SpotId("sill"), new Interval(Some.Day(-1), null))] }),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(StageKind.MovedToLight, null, null, "that it was moved to the light is written down already")]
    [InlineData(StageKind.Uncovered, null, null, "that it was uncovered is written down already")]
    [InlineData(StageKind.PlantedOut, null, 4, "that it was planted out is written down already")]
    [InlineData(StageKind.PrickedOut, 9, 4, "9 of the 9 that are up were pricked out already")]
    [InlineData(StageKind.PrickedOut, 9, null, "9 of the 9 that are up were pricked out already")]
    [InlineData(StageKind.PrickedOut, 5, 4, null)]
    [InlineData(StageKind.MovedToLight, 3, null, null)]
    [InlineData(StageKind.PottedOn, null, null, null)]
    public void What_is_done_is_not_done_again_and_parts_add_up(StageKind kind, int? first, int? second, string? refusal)
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (7, 9)) with { Stages = [new(kind, Some.Day(20), first)] };
        var said = BatchCheck.RefuseAgain(batch, new(kind, Some.Day(21), second));
        Assert.Equal(refusal is null, said is null);
        Assert.Contains(refusal ?? "", said ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void Potting_on_twice_within_the_hour_is_once()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (7, 9)) with { Stages = [new(StageKind.PottedOn, Some.Day(20))] };
        Assert.NotNull(BatchCheck.RefuseAgain(batch, new(StageKind.PottedOn, Some.Day(20) + Duration.FromMinutes(5))));
    }

    [Fact]
    public void A_sprout_day_is_an_interval_between_two_looks()
    {
        Assert.Equal(new FirstSeen(Some.Day(5), Some.Day(7)),
            FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (3, 0), (5, 0), (7, 4), (8, 9))));
        Assert.Equal(new FirstSeen(Some.Sowing, Some.Day(7)), FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (7, 4))));
        Assert.Equal(new FirstSeen(Some.Day(5), null), FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (5, 0))));
    }
}
