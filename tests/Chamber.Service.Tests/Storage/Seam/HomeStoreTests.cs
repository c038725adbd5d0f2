using Chamber.Core;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Batches;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using NodaTime;

namespace Chamber.Service.Tests.Storage.Seam;

/// <summary>What any store of a home does, whatever lies behind the seam: each of them runs these tests. Readings are invented.</summary>
public abstract class HomeStoreTests
{
    private static readonly Instant Now = DataFile.Start;
    private static readonly Author Ana = new("Ana", WriteWay.CommandLine);
    private static readonly Author Ben = new("Ben", WriteWay.Page);
    private static readonly Interval Always = new(null, null);
    private static readonly ProbeId Shelf = new("shelf");
    private static readonly BatchId T1 = new("T1");

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    /// <summary>An empty one, for the length of a test.</summary>
    internal abstract IHomeStore Store { get; }

    [Fact]
    public async Task Facts_come_back_in_order_with_all_that_stands_beside_them()
    {
        Assert.Empty(await Store.FactsSinceAsync(0, Stop));
        var (fact, later) = (new SpotSetUp(new("shelf")), Now + Duration.FromHours(1));
        await Write(Ana, fact.At(Now + Duration.FromTicks(3)), Sown(12).At(Now));
        await Store.WriteAsync(Ben, later, _ => [new BatchLooked(T1, 5).At(later)], Stop);

        var entries = await Store.FactsSinceAsync(0, Stop);
        Assert.Equal(new FactEntry(1, 1, fact, Now, Now, Ana), entries[0]);
        Assert.Equal([1L, 1L, 3L], entries.Select(entry => entry.Act));
        Assert.Equal([new FactEntry(3, 3, new BatchLooked(T1, 5), later, later, Ben)], await Store.FactsSinceAsync(2, Stop));
        Assert.Empty(await Store.FactsSinceAsync(3, Stop));
    }

    [Fact]
    public async Task Entries_are_added_with_the_number_that_is_expected_all_or_none()
    {
        await Write(Ana, new SpotSetUp(new("shelf")).At(Now));
        Assert.False(await Store.TryAppendAsync([Entry(1, "sill")], Stop));
        Assert.False(await Store.TryAppendAsync([Entry(3, "sill")], Stop));
        Assert.False(await Store.TryAppendAsync([Entry(2, "sill"), Entry(4, "mat")], Stop));
        Assert.True(await Store.TryAppendAsync(Array.Empty<FactEntry>(), Stop));
        Assert.Single(await Store.FactsSinceAsync(0, Stop));
        Assert.True(await Store.TryAppendAsync([Entry(2, "sill"), Entry(3, "mat")], Stop));
        Assert.Equal(3, (await Store.FactsSinceAsync(0, Stop)).Count);
    }

    [Fact]
    public async Task What_cannot_be_true_is_refused_and_nothing_of_it_is_written()
    {
        await Write(Ana, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        var refused = await Assert.ThrowsAnyAsync<RefusedException>(async () =>
            await Write(Ben, new BatchLooked(T1, 5).At(Now), new BatchLooked(T1, 13).At(Now + Duration.FromHours(1))));
        Assert.StartsWith("T1: more up (13) than sown (12)", refused.Message, StringComparison.Ordinal);
        Assert.Equal(2, (await Store.FactsSinceAsync(0, Stop)).Count);
    }

    [Fact]
    public async Task What_another_writes_in_between_is_folded_in_before_mine_is_judged()
    {
        await Write(Ana, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        var interrupted = new InterruptedStore(Store, async () => await Write(Ben, new BatchLooked(T1, 5).At(Now + Duration.FromHours(2))));

        var mine = await interrupted.WriteAsync(Ana, Now, _ => [new BatchLooked(T1, 3).At(Now + Duration.FromHours(1))], Stop);
        var all = await Store.FactsSinceAsync(0, Stop);
        Assert.Equal([5, 3], all.Skip(2).Select(entry => ((BatchLooked)entry.Fact).Up));
        Assert.Equal(all.Skip(3), mine);
    }

    [Fact]
    public async Task What_another_writes_in_between_can_make_mine_untrue_and_that_is_told()
    {
        await Write(Ana, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        var interrupted = new InterruptedStore(Store, async () => await Write(Ben, new BatchLooked(T1, 5).At(Now + Duration.FromHours(1))));

        var refused = await Assert.ThrowsAnyAsync<RefusedException>(async () =>
            await interrupted.WriteAsync(Ana, Now, _ => [new BatchLooked(T1, 4).At(Now + Duration.FromHours(2))], Stop));
        Assert.StartsWith("T1: 4 up after 5 were up", refused.Message, StringComparison.Ordinal);
        Assert.Equal(3, (await Store.FactsSinceAsync(0, Stop)).Count);
    }

    [Fact]
    public async Task Whoever_comes_second_each_time_is_told_and_writes_nothing()
    {
        var others = 0;
        var interrupted = new InterruptedStore(
            Store, async () => await Write(Ben, new SpotSetUp(new($"spot-{others++}")).At(Now)), always: true);
        var conflict = await Assert.ThrowsAsync<FactConflictException>(async () =>
            await interrupted.WriteAsync(Ana, Now, _ => [new SpotSetUp(new("shelf")).At(Now)], Stop));
        Assert.Contains($"{FactWriting.TriesMax} times in a row", conflict.Message, StringComparison.Ordinal);
        Assert.Equal(FactWriting.TriesMax, (await Store.FactsSinceAsync(0, Stop)).Count(entry => entry.By == Ben));
        Assert.DoesNotContain(await Store.FactsSinceAsync(0, Stop), entry => entry.By == Ana);
    }

    [Fact]
    public async Task Readings_come_back_once_each_in_order_whole_and_cut_to_the_interval()
    {
        await Keep(DataFile.At(3), DataFile.At(1), DataFile.At(2, probe: "sill"), DataFile.At(2));
        var result = await Keep(DataFile.At(1, celsius: 30), DataFile.At(1, celsius: null, humidity: 55), DataFile.At(4));

        var whole = DataFile.At(1, humidity: 55);
        Assert.Equal((1, 1, 1), (result.Inserted, result.Filled, result.Duplicates));
        Assert.Equal([whole, DataFile.At(4)], result.Changed);
        Assert.Equal([whole, DataFile.At(2), DataFile.At(3), DataFile.At(4)], await Readings(Shelf, Always));
        Assert.Equal(
            [DataFile.At(2), DataFile.At(3)], await Readings(Shelf, new(DataFile.At(2).MeasuredAt, DataFile.At(4).MeasuredAt)));
        Assert.Empty(await Readings(new("nobody"), Always));
    }

    [Fact]
    public async Task Readings_that_were_set_aside_are_in_the_stream_all_the_same()
    {
        await Keep([.. DataFile.Minutes(0, 10)]);
        var aside = new ReadingsSetAside(Shelf, DataFile.At(5).MeasuredAt);
        await Write(Ana, new ProbeSetUp(Shelf).At(Now), aside.At(DataFile.At(2).MeasuredAt));
        Assert.Equal(10, (await Readings(Shelf, Always)).Count);
    }

    [Fact]
    public async Task Only_what_was_received_by_a_moment_can_be_asked_for()
    {
        var late = DataFile.At(1) with { ReceivedAt = DataFile.At(9).ReceivedAt };
        await Keep(DataFile.At(0), late, DataFile.At(2, celsius: null, humidity: 50), DataFile.At(3));
        var by = DataFile.At(3).ReceivedAt;

        Assert.Equal([DataFile.At(0).MeasuredAt, DataFile.At(3).MeasuredAt], await TemperaturesAt(by));
        Assert.Equal([DataFile.At(0).MeasuredAt, late.MeasuredAt, DataFile.At(3).MeasuredAt], await TemperaturesAt(null));
    }

    [Fact]
    public async Task The_newest_of_each_quantity_is_what_was_not_set_aside()
    {
        await Keep(DataFile.At(1, humidity: 61), DataFile.At(2), DataFile.At(3), DataFile.At(1, probe: "sill"),
            DataFile.At(60, probe: "sill"));
        await Write(Ana, new ProbeSetUp(Shelf).At(Now),
            new ReadingsSetAside(Shelf, DataFile.At(4).MeasuredAt).At(DataFile.At(3).MeasuredAt));

        var latest = (await Store.LatestAsync(DataFile.At(5).MeasuredAt, Stop)).ToDictionary(reading => reading.Probe);
        Assert.Equal([Shelf, new ProbeId("sill")], await Store.ProbesAsync(Stop));
        Assert.Equal((DataFile.At(3).MeasuredAt, DataFile.At(2).MeasuredAt, DataFile.At(1).MeasuredAt),
            (latest[Shelf].MeasuredAt, latest[Shelf].Temperature!.Value.At, latest[Shelf].Humidity!.Value.At));
        Assert.Equal(DataFile.At(1).MeasuredAt, latest[new("sill")].MeasuredAt);
    }

    [Fact]
    public async Task The_home_is_what_the_facts_come_to_whoever_wrote_last()
    {
        Assert.Equal((0, 0), ((await Store.HomeAsync(Stop)).Number, (await Store.HomeAsync(Stop)).Home.Spots.Count));
        await Write(Ana, new SpotSetUp(new("shelf")).At(Now), Sown(12).At(Now));
        await Write(Ben, new BatchLooked(T1, 5).At(Now + Duration.FromHours(1)));
        await Write(Ana, new Withdrawn(3).At(Now));

        var known = await Store.HomeAsync(Stop);
        var folded = FactLog.Of(await Store.FactsSinceAsync(0, Stop)).Home;
        Assert.Equal(4, known.Number);
        Assert.Empty(known.Home.ToParts().DifferencesFrom(folded.ToParts()));
        Assert.Empty(known.Home.Batch(T1)!.Looks);
    }

    [Fact]
    public async Task A_stream_can_be_left_and_ended()
    {
        await Keep([.. DataFile.Minutes(0, 2000)]);
        var read = 0;
        await foreach (var reading in Store.ReadingsAsync(Shelf, Always, Stop))
        {
            Assert.Equal(DataFile.At(read).MeasuredAt, reading.MeasuredAt);
            if (++read == 3)
            {
                break;
            }
        }

        using var stop = new CancellationTokenSource();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () =>
        {
            await foreach (var _ in Store.ReadingsAsync(Shelf, Always, stop.Token))
            {
                await stop.CancelAsync();
            }
        });
        await Keep(DataFile.At(2000));
        Assert.Equal(2001, (await Readings(Shelf, Always)).Count);
    }

    [Fact]
    public async Task What_changed_since_a_mark_is_the_new_the_late_and_the_fuller_alone()
    {
        await Keep([.. DataFile.Minutes(0, 10), .. DataFile.Minutes(0, 10, "sill")]);
        var mark = (await Store.ChangesSinceAsync(JournalMark.Beginning, Stop)).Mark;
        Assert.Empty((await Store.ChangesSinceAsync(mark, Stop)).Stretches);

        await Keep(DataFile.At(2.5), DataFile.At(12), DataFile.At(7, celsius: null, humidity: 50));
        var changes = await Store.ChangesSinceAsync(mark, Stop);
        List<Instant> changed = [];
        foreach (var (probe, when) in changes.Stretches)
        {
            Assert.Equal(Shelf, probe);
            changed.AddRange((await Readings(probe, when)).Select(reading => reading.MeasuredAt));
        }

        Assert.All([2.5, 7, 12], minute => Assert.Contains(DataFile.At(minute).MeasuredAt, changed));
        Assert.DoesNotContain(DataFile.At(1).MeasuredAt, changed);
        Assert.Empty((await Store.ChangesSinceAsync(changes.Mark, Stop)).Stretches);
    }

    [Fact]
    public async Task What_still_arrives_under_a_former_name_is_the_probe_s_own()
    {
        await Keep(DataFile.At(1));
        await Write(Ana, new ProbeSetUp(Shelf).At(Now));
        await Write(Ana, new ProbeRenamed(Shelf, new("warm-shelf")).At(Now));
        var result = await Keep(DataFile.At(2), DataFile.At(3, probe: "warm-shelf"));

        Assert.Equal(["warm-shelf", "warm-shelf"], result.Changed.Select(reading => reading.Probe.Text));
        Assert.Equal(3, (await Readings(new("warm-shelf"), Always)).Count);
        await Write(Ana, new Withdrawn(2).At(Now));
        Assert.Equal(3, (await Readings(Shelf, Always)).Count);
        Assert.Empty(await Readings(new("warm-shelf"), Always));
    }

    private static BatchSown Sown(int seeds) => new(T1, new("tomato"), Core.Crops.SowingMethod.CoveredMix, seeds, Spot: new("shelf"));

    private static FactEntry Entry(long number, string spot) => new(number, number, new SpotSetUp(new(spot)), Now, Now, Ana);

    private async Task Write(Author by, params DatedFact[] facts) => await Store.WriteAsync(by, Now, _ => facts, Stop);

    private async Task<AppendResult> Keep(params Reading[] readings) => await Store.AppendAsync(readings, [], [], Stop);

    private async Task<List<Instant>> TemperaturesAt(Instant? receivedBy)
    {
        List<Instant> all = [];
        await foreach (var part in Store.TemperaturesAsync(Shelf, Always, receivedBy, Stop))
        {
            all.AddRange(part.ToArray().Select(sample => sample.At));
        }

        return all;
    }

    private async Task<List<Reading>> Readings(ProbeId probe, Interval when)
    {
        List<Reading> all = [];
        await foreach (var reading in Store.ReadingsAsync(probe, when, Stop))
        {
            all.Add(reading);
        }

        return all;
    }

    /// <summary>Somebody else comes in before the first append, or before each.</summary>
    private sealed class InterruptedStore(IHomeStore store, Func<Task> meanwhile, bool always = false) : IHomeStore
    {
        private bool hasCome;

        public ValueTask<IReadOnlyList<FactEntry>> FactsSinceAsync(long after, CancellationToken cancel = default) =>
            store.FactsSinceAsync(after, cancel);

        public async ValueTask<bool> TryAppendAsync(IReadOnlyList<FactEntry> entries, CancellationToken cancel = default)
        {
            if (always || !hasCome)
            {
                hasCome = true;
                await meanwhile();
            }

            return await store.TryAppendAsync(entries, cancel);
        }

        public IAsyncEnumerable<Reading> ReadingsAsync(ProbeId probe, Interval interval, CancellationToken cancel = default) =>
            store.ReadingsAsync(probe, interval, cancel);

        public ValueTask<AppendResult> AppendAsync(IReadOnlyList<Reading> readings, IReadOnlyList<Refusal> refusals,
            IReadOnlyList<Reading> lastKnown, CancellationToken cancel = default) =>
            store.AppendAsync(readings, refusals, lastKnown, cancel);

        public ValueTask<JournalChanges> ChangesSinceAsync(JournalMark mark, CancellationToken cancel = default) =>
            store.ChangesSinceAsync(mark, cancel);
    }
}
