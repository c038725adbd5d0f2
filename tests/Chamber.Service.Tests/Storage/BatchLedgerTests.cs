using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage;

/// <summary>Readings, times and counts are invented.</summary>
public sealed class BatchLedgerTests : IDisposable
{
    private static readonly Instant Sown = DataFile.Start;
    private static readonly BatchId T1 = new("T1");
    private static readonly SpotId Shelf = new("router-shelf");
    private static readonly SpotId Sill = new("sill");

    private readonly DataFile file = new();
    private readonly ChamberStore store;

    public BatchLedgerTests()
    {
        store = file.Open();
        store.Ledger.SetUp.Save(new Spot(Shelf, SpotKind.Electronics, LightLevel.Dark, 2));
        store.Ledger.SetUp.Save(new Spot(Sill, SpotKind.Sill, LightLevel.Bright, 4));
        store.Ledger.Seeds.Save(
            new Lot(new("tom-24"), new("tomato"), "Red Cherry", SeedOrigin.Bought, 2024, LotYearKind.PackedFor, 40, Sown, 1.99m));
    }

    private BatchLedger Batches => store.Ledger.Batches;

    [Fact]
    public void A_batch_comes_back_as_it_was_written_down()
    {
        var batch = Tomatoes() with
        {
            Stays = [new(Shelf, new(Sown, Days(5))), new(Sill, new(Days(5), null))],
            Looks = [new(Days(3), 0), new(Days(4), 5, "mould"), new(Days(6), 9)],
            Stages = [new(StageKind.Uncovered, Days(5)), new(StageKind.PrickedOut, Days(12), 8, "into cells")],
            Losses = [new(Days(8), 1, LossCause.DampingOff)],
            Containers = 2,
            IsTest = true,
            Treatment = "soaked 12 h",
        };
        Batches.Sow(batch);

        var back = Assert.Single(Batches.All());
        AssertSame(batch, back);
    }

    [Fact]
    public void Moving_a_batch_ends_its_stay_and_keeps_the_history()
    {
        Batches.Sow(Tomatoes() with { Stays = [new(Shelf, new(Sown, null))] });
        Batches.Move(T1, Sill, Days(5));
        Batches.End(T1, Days(40));

        Assert.Equal([new(Shelf, new(Sown, Days(5))), new Stay(Sill, new(Days(5), Days(40)))], Batches.Find(T1)!.Stays);
        Assert.Empty(Batches.All(open: true));

        Batches.Reopen(T1);
        Assert.Equal(new Stay(Sill, new(Days(5), null)), Batches.Find(T1)!.Stays[^1]);
    }

    [Fact]
    public void The_day_of_planting_out_stands_with_the_batch()
    {
        Batches.Sow(Tomatoes());
        Batches.PlantOut(T1, new(2026, 5, 17), DateTimeZone.Utc);
        Assert.Equal(new LocalDate(2026, 5, 17), Batches.Find(T1)!.PlantOut);
    }

    [Fact]
    public void Sown_and_tested_seeds_leave_the_lot()
    {
        Batches.Sow(Tomatoes());
        store.Ledger.Seeds.Record(new LotTest(new("tom-24"), Days(1), null, 10, 0));

        Assert.Equal(40 - 12 - 10, LotStock.SeedsLeft(store.Ledger.Seeds.Lot(new("tom-24"))!, Batches.All(), store.Ledger.Seeds.Tests()));
    }

    [Fact]
    public void A_free_name_fits_on_a_stick()
    {
        Batches.Sow(Tomatoes());
        Assert.Equal("T2", Batches.FreeId(new("tomato")).Text);
        Assert.Equal("B1", Batches.FreeId(new("basil")).Text);
    }

    public static TheoryData<string, Action<BatchLedger>> Contradictions => new()
    {
        { "There is no batch \"T9\".", batches => batches.Record(new("T9"), new Look(Days(1), 0)) },
        { "There is a batch \"T1\" already; take another name.", batches => batches.Sow(Tomatoes()) },
        { "There is no lot \"none\"; record it first.", batches => batches.Sow(Tomatoes("T2") with { Lot = new LotId("none") }) },
        { "Lot \"tom-24\" is tomato, not basil.", batches => batches.Sow(Tomatoes("T2") with { Crop = new("basil") }) },
        { "0 is outside 1 to 10,000 for the seeds of a batch: a home sows no more at once; write a larger sowing down as several batches.",
            batches => batches.Sow(Tomatoes("T2") with { Seeds = 0 }) },
        { "There is no spot \"attic\"; set it up first.", batches => batches.Move(T1, new("attic"), Days(1)) },
        { "Batch \"T1\" is on \"router-shelf\" already.", batches => batches.Move(T1, Shelf, Days(1)) },
        { "T1: more up (13) than sown (12); correct the count, or the number of seeds of the batch.", batches => batches.Record(T1, new Look(Days(9), 13)) },
        {
            "T1: 4 up after 5 were up at 2026-02-05 06:00 UTC: what has come up stays counted. Count those that died or were moved too, "
                + "and record a loss as a loss.",
            batches => batches.Record(T1, new Look(Days(9), 4))
        },
        {
            "T1: 6 up at 2026-02-04 06:00 UTC, but only 5 at 2026-02-05 06:00 UTC, which is later: correct one of the two.",
            batches => batches.Record(T1, new Look(Days(3), 6))
        },
        { "There is a look at batch \"T1\" at 2026-02-05 06:00 UTC already; remove it first.",
            batches => batches.Record(T1, new Look(Days(4), 5)) },
        {
            "T1: the look at 2026-01-31 06:00 UTC lies before the sowing at 2026-02-01 06:00 UTC; correct one of the two times.",
            batches => batches.Record(T1, new Look(Days(-1), 0))
        },
        { "Batch \"T1\" was sown at 2026-02-01 06:00 UTC; 2026-01-31 06:00 UTC is before that.", batches => batches.Wet(T1, Days(-1)) },
        { "batch T1: 13 plants lost, but only 5 were ever up: correct the loss, or record a look first.", batches => batches.Record(T1,
            new Loss(Days(9), 13, LossCause.Eaten)) },
        { "Something was recorded for batch \"T1\" at 2026-02-05 06:00 UTC; it can only end after that.",
            batches => batches.End(T1, Days(2)) },
        { "Batch \"T1\" has no look at 2026-02-03 06:00 UTC.", batches => batches.RemoveLook(T1, Days(2)) },
        { "Batch \"T2\" stood on \"router-shelf\" then; a batch is on one spot at a time.",
            batches => batches.Sow(Tomatoes("T2") with { Stays = [new(Shelf, new(Sown, null)), new(Sill, new(Days(1), null))] }) },
    };

    [Theory]
    [MemberData(nameof(Contradictions), DisableDiscoveryEnumeration = true)]
    public void What_contradicts_the_record_is_refused_whole_in_one_sentence(string message, Action<BatchLedger> act)
    {
        Batches.Sow(Tomatoes() with { Stays = [new(Shelf, new(Sown, null))], Looks = [new(Days(4), 5)] });
        var before = Assert.Single(Batches.All());

        var refused = Assert.ThrowsAny<Core.RefusedException>(() => act(Batches));

        Assert.Equal(message, refused.Message);
        AssertSame(before, Assert.Single(Batches.All()));
    }

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }

    private static void AssertSame(Batch expected, Batch actual)
    {
        Assert.Equal(expected.Stays, actual.Stays);
        Assert.Equal(expected.Looks, actual.Looks);
        Assert.Equal(expected.Stages, actual.Stages);
        Assert.Equal(expected.Losses, actual.Losses);
        Assert.Equal(expected,
            actual with { Stays = expected.Stays, Looks = expected.Looks, Stages = expected.Stages, Losses = expected.Losses });
    }

    private static Instant Days(int days) => Sown + Duration.FromDays(days);

    private static Batch Tomatoes(string id = "T1") =>
        new(new(id), new("tomato"), new LotId("tom-24"), SowingMethod.DampTowel, Sown, 12, [], []);
}
