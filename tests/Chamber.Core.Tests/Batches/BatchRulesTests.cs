using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Batches;

/// <summary>What may be recorded of a batch; the batches are invented.</summary>
public class BatchRulesTests
{
    private static readonly Batch Up = Some.Batch(12, SowingMethod.CoveredMix, (7, 9));

    [Fact]
    public void A_batch_that_moved_and_came_up_is_sound()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (5, 0), (7, 9)) with
        {
            Stays = [new(new("cupboard"), new Interval(Some.Sowing, Some.Day(7))), new(new("sill"), new Interval(Some.Day(7), null))],
            Stages = [new(StageKind.MovedToLight, Some.Day(7), 9)],
            Losses = [new(Some.Day(9), 2, LossCause.Eaten)],
        };
        var sown = BatchRules.Sown(batch);
        Assert.Equal((batch.Stays.Count, batch.Looks.Count, batch.Stages.Count, batch.Losses.Count), (sown.Stays.Count, sown.Looks.Count,
            sown.Stages.Count, sown.Losses.Count));
        Assert.Equal(7, BatchRules.Alive(sown));
    }

    [Fact]
    public void Nothing_stands_in_two_places_at_once()
    {
        var batch = Some.Batch() with { Stays = [new(new("cupboard"), new Interval(Some.Sowing, null)), new(new("sill"),
            new Interval(Some.Day(7), null))] };
        Assert.Equal("Batch \"T3\" stood on \"cupboard\" then; a batch is on one spot at a time.", Refusal(() => BatchRules.Sown(batch)));
    }

    // Once the ledger took losses up to the seeds sown, and the rules up to what came up: one of the two was wrong.
    [Fact]
    public void No_more_plants_are_handled_or_lost_than_came_up()
    {
        Assert.Contains("only 9 are up", Refusal(() => BatchRules.Done(Up, new(StageKind.PrickedOut, Some.Day(20), 10))),
            StringComparison.Ordinal);
        Assert.Contains("10 plants lost, but only 9", Refusal(() => BatchRules.Lost(Up, new(Some.Day(20), 10, LossCause.Cold))),
            StringComparison.Ordinal);
        var fewer = BatchRules.Lost(Up, new(Some.Day(20), 5, LossCause.Cold));
        Assert.Contains("10 plants lost, but only 9", Refusal(() => BatchRules.Lost(fewer, new(Some.Day(21), 5, LossCause.Cold))),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_happens_before_the_sowing_and_only_towels_are_planted_from()
    {
        Assert.Contains("is before that", Refusal(() => BatchRules.Done(Up, new(StageKind.Uncovered, Some.Day(-1)))),
            StringComparison.Ordinal);
        Assert.Contains("not sown on a towel", Refusal(() => BatchRules.Done(Up, new(StageKind.TowelPlanted, Some.Day(8)))),
            StringComparison.Ordinal);
        Assert.Contains("is before that", Refusal(() => BatchStays.Placed(Up with { Stays = [] }, new(new SpotId("sill"),
            new Interval(Some.Day(-1), null)))), StringComparison.Ordinal);
    }

    [Fact]
    public void A_move_ends_the_stay_before_and_an_end_the_last_one()
    {
        var moved = BatchStays.Moved(Up, new("sill"), Some.Day(8));
        Assert.Equal([new(new("cupboard"), new(Some.Sowing, Some.Day(8))), new Stay(new("sill"), new(Some.Day(8), null))], moved.Stays);
        var ended = BatchStays.Ended(moved, Some.Day(30));
        Assert.Equal((Some.Day(30), Some.Day(30)), (ended.EndedAt, ended.Stays[^1].When.End));
        Assert.Equal(moved.Stays, BatchStays.Reopened(ended).Stays);
        Assert.Contains("ended at", Refusal(() => BatchRules.Looked(ended, new(Some.Day(31), 9))), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-1, 3, "at")]
    [InlineData(9, 3, "up")]
    [InlineData(9, 13, "up")]
    [InlineData(7, 9, "at")]
    public void The_entry_that_is_wrong_is_named(double day, int up, string field) =>
        Assert.Equal(field, Assert.Throws<BatchRefusedException>(() => BatchRules.Looked(Up, new(Some.Day(day), up))).Field);

    [Fact]
    public void Nothing_is_planted_out_before_it_was_sown()
    {
        Assert.Contains("before it was sown", Refusal(() => BatchRules.ToPlantOut(Up, new(2026, 2, 28), DateTimeZone.Utc)),
            StringComparison.Ordinal);
        Assert.Equal(new LocalDate(2026, 5, 17), BatchRules.ToPlantOut(Up, new(2026, 5, 17), DateTimeZone.Utc).PlantOut);
    }

    [Theory]
    [InlineData(StageKind.MovedToLight, null, null, "that it was moved to the light is recorded already")]
    [InlineData(StageKind.Uncovered, null, null, "that it was uncovered is recorded already")]
    [InlineData(StageKind.PlantedOut, null, 4, "that it was planted out is recorded already")]
    [InlineData(StageKind.PrickedOut, 9, 4, "9 of the 9 that are up were pricked out already")]
    [InlineData(StageKind.PrickedOut, 9, null, "9 of the 9 that are up were pricked out already")]
    [InlineData(StageKind.PrickedOut, 5, 4, null)]
    [InlineData(StageKind.MovedToLight, 3, null, null)]
    [InlineData(StageKind.PottedOn, null, null, null)]
    public void What_is_done_is_not_done_again_and_parts_add_up(StageKind kind, int? first, int? second, string? refusal)
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (7, 9)) with { Stages = [new(kind, Some.Day(20), first)] };
        var said = Record.Exception(() => BatchRules.RequireNew(batch, new(kind, Some.Day(21), second)))?.Message;
        Assert.Equal(refusal is null, said is null);
        Assert.Contains(refusal ?? "", said ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void Potting_on_twice_within_the_hour_is_once()
    {
        var batch = Some.Batch(12, SowingMethod.CoveredMix, (7, 9)) with { Stages = [new(StageKind.PottedOn, Some.Day(20))] };
        Assert.Contains("recorded already", Refusal(() => BatchRules.RequireNew(batch, new(StageKind.PottedOn,
            Some.Day(20) + Duration.FromMinutes(5)))), StringComparison.Ordinal);
    }

    [Fact]
    public void A_sprout_day_is_an_interval_between_two_looks()
    {
        Assert.Equal(new FirstSeen(Some.Day(5), Some.Day(7)), FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (3, 0), (5, 0), (7,
            4), (8, 9))));
        Assert.Equal(new FirstSeen(Some.Sowing, Some.Day(7)), FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (7, 4))));
        Assert.Equal(new FirstSeen(Some.Day(5), null), FirstSeen.Of(Some.Batch(12, SowingMethod.CoveredMix, (5, 0))));
    }

    private static string Refusal(Action write) => Assert.Throws<BatchRefusedException>(write).Message;
}
