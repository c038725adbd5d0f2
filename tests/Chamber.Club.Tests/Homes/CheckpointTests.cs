using System.IO.Compression;
using System.Security.Cryptography;
using Chamber.Club.Homes;
using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Facts.Probes;
using Chamber.Core.Facts.Spots;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Homes;

/// <summary>A home that wakes from a checkpoint says what one says that never slept, and what one says that reads its whole past. Homes
/// and readings are drawn from a seed.</summary>
public sealed class CheckpointTests(ClubServer server) : IAsyncLifetime
{
    private const int Steps = 40;
    private static readonly Author Ana = new("Ana", WriteWay.Page);
    private static readonly Duration Often = Duration.FromMinutes(10);

    private readonly List<FactEntry> written = [];
    private readonly List<Reading> late = [];
    private ClubDatabase? club;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => club = await server.Database();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public async Task A_home_woken_again_and_again_says_what_one_says_that_never_slept(int seed)
    {
        var (random, draw) = (new Random(seed), new SomeHome(new(seed)));
        var (steady, waking) = (await club!.AddHomeAsync("steady", Stop), await club.AddHomeAsync("waking", Stop));
        var (awake, sleeper) = (new WatchedHome(club, steady), new WatchedHome(club, waking));
        var (from, woken) = (SomeHome.Start, 0);
        for (var step = 0; step < Steps; step++)
        {
            FactEntry[] facts = [Entry(draw.Next(), draw.Now),
                .. random.Next(5) == 0 ? [Amendment(random, draw)] : Array.Empty<FactEntry>()];
            written.AddRange(facts);
            var readings = Said(random, from, draw.Now);
            foreach (var home in (int[])[steady, waking])
            {
                Assert.True(await club.Home(home).TryAppendAsync(facts, Stop));
                await club.Home(home).AppendAsync(readings, [], [], Stop);
            }

            from = draw.Now;
            await awake.CatchUpAsync(draw.Now, Stop);
            await sleeper.CatchUpAsync(draw.Now, Stop);
            await sleeper.KeepAsync(random.Next(3) == 0 ? null : draw.Now, Stop);
            if (random.Next(2) == 0)
            {
                sleeper = new(club, waking);
                await sleeper.CatchUpAsync(draw.Now, Stop);
                woken += sleeper.IsFromCheckpoint ? 1 : 0;
            }
        }

        var end = draw.Now + Duration.FromHours(6);
        await awake.CatchUpAsync(end, Stop);
        await sleeper.CatchUpAsync(end, Stop);
        Assert.InRange(woken, Steps / 6, Steps);
        Assert.NotEmpty(await Alerts(steady));
        Assert.Equal(await Alerts(steady), await Alerts(waking));
        Assert.Equal(await Shown(awake, end), await Shown(sleeper, end));

        // The same home as one finds it that has nothing but facts, readings and alerts: it has nothing to put right.
        await club.AsAsync(waking, session => CheckpointRows.KeepAsync(session, waking, [0], new(0, end, [])), Stop);
        var fresh = new WatchedHome(club, waking);
        await fresh.CatchUpAsync(end, Stop);
        Assert.False(fresh.IsFromCheckpoint);
        Assert.Equal(await Alerts(steady), await Alerts(waking));
        Assert.Equal(await Shown(awake, end), await Shown(fresh, end));
    }

    [Fact]
    public async Task What_does_not_fit_is_passed_over_and_the_past_is_read()
    {
        var home = await Warm();
        var now = SomeHome.Start + Duration.FromHours(10);
        var first = new WatchedHome(club!, home);
        await first.CatchUpAsync(now, Stop);
        await first.KeepAsync(null, Stop);
        var kept = await club!.AsAsync(home, session => CheckpointRows.FindAsync(session, home, Checkpoints.GraphTypes.Stamp), Stop);
        Assert.Null(await PassedOver(kept!));

        // Of another program; damaged; whole and not to be made again; of facts that are not there; before an alert that was told since.
        await club.AsAsync(home, session => CheckpointRows.KeepAsync(session, home, [1], kept!), Stop);
        var fresh = await Woken();
        Assert.Equal((false, null), (fresh.IsFromCheckpoint, fresh.PassedOver));
        var damaged = kept! with { Body = [.. kept.Body.AsSpan(0, kept.Body.Length - 1), 1] };
        const string Damaged = "it is damaged";
        Assert.Equal(Damaged, await PassedOver(damaged));
        Assert.Equal(Damaged, await PassedOver(kept! with { Body = [] }));
        Assert.Equal(Damaged, await PassedOver(kept! with { Body = Bent(kept.Body, plain => plain[..(plain.Length / 2)]) }));
        Assert.Equal(Damaged, await PassedOver(kept! with { Body = Bent(kept.Body, plain => [plain[0], 0x7F, .. plain[2..]]) }));
        Assert.Equal("it rests on facts that are not there", await PassedOver(kept! with { Facts = 99 }));
        var alerts = await club.AsAsync(home, session => AlertRows.SinceAsync(session, home, Instant.MaxValue), Stop);
        await club.AsAsync(home, session => AlertRows.SaveAsync(session, home, alerts[0].Alert with { ClosedAt = now }, 1), Stop);
        Assert.Equal("something was set or told since", await PassedOver(kept!));

        async Task<string?> PassedOver(KeptCheckpoint checkpoint)
        {
            await club.AsAsync(home, session => CheckpointRows.KeepAsync(session, home, Checkpoints.GraphTypes.Stamp, checkpoint), Stop);
            var again = await Woken();
            Assert.Equal(again.PassedOver is null, again.IsFromCheckpoint);
            return again.PassedOver;
        }

        async Task<WatchedHome> Woken()
        {
            var again = new WatchedHome(club, home);
            await again.CatchUpAsync(now, Stop);
            Assert.True(again.IsWatched);
            return again;
        }
    }

    public async ValueTask DisposeAsync() => await club!.DisposeAsync();

    // As HomeCheckpoint packs it: a hash, the length, and Brotli.
    private static byte[] Bent(byte[] body, Func<byte[], byte[]> bend)
    {
        var plain = new byte[BitConverter.ToInt32(body, SHA256.HashSizeInBytes)];
        Assert.True(BrotliDecoder.TryDecompress(body.AsSpan(SHA256.HashSizeInBytes + sizeof(int)), plain, out _));
        var bent = bend(plain);
        var packed = new byte[BrotliEncoder.GetMaxCompressedLength(bent.Length)];
        Assert.True(BrotliEncoder.TryCompress(bent, packed, out var length));
        return [.. SHA256.HashData(packed.AsSpan(0, length)), .. BitConverter.GetBytes(bent.Length), .. packed.AsSpan(0, length)];
    }

    private async Task<int> Warm()
    {
        var home = await club!.AddHomeAsync("mill-lane-4", Stop);
        var (spot, probe) = (new SpotSetUp(new("shelf")).At(SomeHome.Start),
            new ProbeSetUp(new("soil"), Measurand.Media).At(SomeHome.Start));
        var placed = new ProbePlaced(new("soil"), new("shelf")).At(SomeHome.Start);
        await club.Home(home).WriteAsync(Ana, SomeHome.Start, _ => [spot, probe, placed], Stop);
        await club.Home(home).AppendAsync(
            [.. Enumerable.Range(0, 60).Select(i => At("soil", SomeHome.Start + i * Often, i < 50 ? 24 : 56))], [], [], Stop);
        return home;
    }

    private FactEntry Entry(DatedFact fact, Instant now)
    {
        var number = written.Count + 1;
        return new(number, number, fact.Fact, fact.At, now, Ana);
    }

    private FactEntry Amendment(Random random, SomeHome draw)
    {
        var entry = written.Count == 0 ? null : written[random.Next(written.Count)];
        var number = written.Count + 2;
        return entry?.Fact is null or Withdrawn or Corrected || random.Next(2) == 0
            ? new(number, number, new Withdrawn(Math.Max(1, entry?.Number ?? 1)), draw.Now, draw.Now, Ana)
            : new(number, number, new Corrected(entry.Number, draw.Slip(new(entry.Fact, entry.At)).Fact), entry.At, draw.Now, Ana);
    }

    // Three probes from cold to hot and back, one with hours of silence, lone wild values, and what comes hours late.
    private List<Reading> Said(Random random, Instant after, Instant until)
    {
        var said = new List<Reading>(late);
        late.Clear();
        for (var at = after + Often; at <= until; at += Often)
        {
            var hours = (at - SomeHome.Start).TotalHours;
            foreach (var (probe, level) in new[] { ("probe-0", 22.0), ("probe-1", 36.0), ("probe-2", 12.0) })
            {
                if (probe != "probe-2" || hours % 40 > 12)
                {
                    var wild = random.Next(60) == 0 ? 30 : 0;
                    (random.Next(12) == 0 ? late : said).Add(At(probe, at, level + wild + 16 * Math.Sin(hours / 11) + random.NextDouble()));
                }
            }
        }

        return said;
    }

    private static Reading At(string probe, Instant at, double celsius) => new(new(probe), at, at + Duration.FromMilliseconds(40),
        Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(70 + 25 * Math.Sin(celsius)));

    private Task<List<string>> Alerts(int home) => club!.AsAsync(home, session => session.RowsAsync(
        """
        SELECT concat_ws(' ', number, kind, subject_kind, subject, severity, since, opened, closed, close_reason, evidence)
        FROM alert WHERE home = $1 ORDER BY number
        """, row => row.GetString(0), home), Stop);

    private static async Task<string> Shown(WatchedHome home, Instant now)
    {
        var shown = await home.ShowAsync(now, Stop);
        return string.Join('\n', [.. shown.Spots.Select(spot => spot.ToString()), .. shown.Alerts.Select(alert => alert.ToString())]);
    }
}
