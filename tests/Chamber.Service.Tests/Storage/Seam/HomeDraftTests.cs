using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>What is done in a draft is written once, and by what is known then. The home is invented.</summary>
public sealed class HomeDraftTests : IDisposable
{
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private static readonly Author Ben = new("Ben", WriteWay.CommandLine);
    private static readonly Instant Now = DataFile.Start;
    private static readonly BatchId T1 = new("T1");

    private readonly DataFile file = new();
    private readonly ChamberStore store;

    public HomeDraftTests() => store = file.Open();

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Nothing_is_in_the_store_while_an_act_goes_on_and_all_of_it_after()
    {
        var (seen, entries) = await Do(pen =>
        {
            pen.SetUp.Save(new Core.Spots.Spot(new("shelf"), default, default, 1));
            pen.Write(new SpotSetUp(new("sill")).At(Now));
            return (InStore: store.Facts.Last, InDraft: pen.Home.Spots.Count);
        });
        Assert.Equal((0L, 2), seen);
        Assert.Equal([1L, 2L], entries.Select(entry => entry.Number));
        Assert.Equal(entries, store.Facts.Since(0));
        Assert.Equal(2, store.Facts.Home().Spots.Count);
        Assert.Empty(store.Facts.TableDifferences());
    }

    [Fact]
    public async Task An_act_that_is_refused_halfway_leaves_nothing()
    {
        await Assert.ThrowsAnyAsync<RefusedException>(() => Do(pen =>
        {
            pen.Write(new SpotSetUp(new("shelf")).At(Now));
            return pen.Write(new BatchLooked(T1, 3).At(Now));
        }));
        Assert.Equal(0, store.Facts.Last);
    }

    [Fact]
    public async Task Where_another_writes_meanwhile_the_act_is_done_again_by_what_is_then()
    {
        var times = 0;
        var (free, _) = await Do(pen =>
        {
            var batch = pen.Batches.FreeId(new("tomato"));
            pen.Write(Sown(batch));
            if (times++ == 0)
            {
                store.Home.Append(Ben, Now, Sown(T1));
            }

            return batch;
        });
        Assert.Equal((2, new BatchId("T2")), (times, free));
        Assert.Equal([Ben, Ana], store.Facts.Since(0).Select(entry => entry.By));
    }

    [Fact]
    public async Task Amendments_and_more_in_one_act_stand_in_the_tables_too()
    {
        store.Home.Append(Ben, Now, new SpotSetUp(new("shelf")).At(Now), new SpotRenamed(new("shelf"), new("cupboard")).At(Now));
        store.Home.Append(Ben, Now, Sown(T1), new BatchLooked(T1, 3).At(Now));
        await Do(pen =>
        {
            pen.Write(new SpotSetUp(new("sill")).At(Now));
            pen.Batches.RemoveLook(T1, Now);
            return pen.Write(new BatchLooked(T1, 5).At(Now), new BatchRenamed(T1, new("M1")).At(Now));
        });
        Assert.Equal(5, Assert.Single(store.Facts.Home().Batches).Looks[^1].Up);
        Assert.Empty(store.Facts.TableDifferences());
        using var again = file.Open();
        Assert.Empty(again.Facts.TableDifferences());
    }

    [Fact]
    public async Task What_was_measured_is_stored_with_the_act_and_what_was_there_is_not_new()
    {
        var (first, later) = (DataFile.At(1), DataFile.At(2));
        await store.Home.AppendAsync([first], [], [], Stop);

        var (taken, _) = await HomeDraft.WriteAsync(store.Home, store.Records,
            draft => AtHand.Of(draft.AppendAsync([first, later], [], [])), Stop);
        Assert.Equal((1, 1), (taken.Inserted, taken.Duplicates));
        var stored = await store.Home.ReadingsAsync(first.Probe, new(first.MeasuredAt, null), Stop).ToListAsync(Stop);
        Assert.Equal([first, later], stored);
    }

    public void Dispose()
    {
        store.Dispose();
        file.Dispose();
    }

    private Task<(T Answer, IReadOnlyList<FactEntry> Entries)> Do<T>(Func<HomePen, T> act) =>
        HomeDraft.WriteAsync(store.Home, store.Records, draft => act(new(draft, draft, Ana, () => Now)), Stop);

    private static DatedFact Sown(BatchId batch) =>
        new BatchSown(batch, new("tomato"), SowingMethod.CoveredMix, 12).At(Now);
}
