using Chamber.Service.Mirror;
using Chamber.Service.Tests.Storage;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Mirror;

/// <summary>The mirror and a real server that speaks the InfluxDB v2 write API; its own read side tells what it has. Readings, times and
/// counts are invented.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RealServerTests
{
    // Into the second or third request, as small as they are packed.
    private const int MidStream = 2000;

    private const string Temperatures = "chamber_reading_temperature_celsius";

    [Fact]
    public async Task A_history_arrives_whole_and_each_reading_once()
    {
        await using var database = await VictoriaMetrics.Start();
        using var rig = new MirrorRig(database.Url);
        Append(rig.Store, 0, 3000, "shelf");
        Append(rig.Store, 500, 1000, "mat");
        using var server = new MirrorServer(rig.Settings, rig.Data);

        await rig.PumpDry(server.SendAsync);

        await AssertSame(rig.Store, database);
        Assert.True(rig.Cursor.Sent >= 4000);
    }

    [Fact]
    public async Task Only_what_is_new_is_sent_after_a_restart_and_late_readings_are_too()
    {
        await using var database = await VictoriaMetrics.Start();
        using var rig = new MirrorRig(database.Url);
        Append(rig.Store, 0, 1200, "shelf");
        using var server = new MirrorServer(rig.Settings, rig.Data);
        await rig.PumpDry(server.SendAsync);
        var before = rig.Cursor.Sent;

        rig.Restart();
        Append(rig.Store, 1200, 100, "shelf");
        rig.Store.Journal.Append([.. Enumerable.Range(0, 700).Select(minute => DataFile.At(minute + 0.5))], []);
        await rig.PumpDry(server.SendAsync);

        await AssertSame(rig.Store, database);

        // The late ones lie between 699 that were sent: the stretch is sent whole, and nothing else is.
        Assert.Equal(100 + 700 + 699, rig.Cursor.Sent - before);
    }

    [Fact]
    public async Task A_server_stopped_and_started_in_mid_stream_loses_and_doubles_nothing()
    {
        await using var database = await VictoriaMetrics.Start();
        using var rig = new MirrorRig(database.Url, batchLines: 300);
        Append(rig.Store, 0, 4000, "shelf");
        using var server = new MirrorServer(rig.Settings, rig.Data);
        var requests = 0;

        var troubles = await rig.PumpDry(
            async (lines, cancel) =>
            {
                if (++requests is 3 or 8)
                {
                    await database.Stop();
                }

                return await server.SendAsync(lines, cancel);
            },
            database.StartAgain);

        Assert.Equal(2, troubles.Count);
        await AssertSame(rig.Store, database);
    }

    [Fact]
    public async Task Over_a_slow_wire_that_breaks_nothing_is_lost_or_doubled()
    {
        await using var database = await VictoriaMetrics.Start();
        await using var wire = new SlowWire(database.Port);
        using var rig = new MirrorRig(wire.Url, batchLines: 300);
        Append(rig.Store, 0, 3000, "shelf");
        using var server = new MirrorServer(rig.Settings, rig.Data);
        wire.Slow(700);
        wire.CutAfter(MidStream);
        var cuts = 0;

        var troubles = await rig.PumpDry(server.SendAsync, () =>
        {
            wire.CutAfter(++cuts % 2 == 0 ? MidStream : int.MaxValue);
            return Task.CompletedTask;
        });

        Assert.NotEmpty(troubles);
        Assert.True(wire.Cuts > 0);
        await AssertSame(rig.Store, database);
    }

    [Fact]
    public async Task A_lost_answer_doubles_nothing_since_the_same_lines_are_the_same_points()
    {
        await using var database = await VictoriaMetrics.Start();
        using var rig = new MirrorRig(database.Url, batchLines: 300);
        Append(rig.Store, 0, 1500, "shelf");
        using var server = new MirrorServer(rig.Settings, rig.Data);
        var requests = 0;

        var troubles = await rig.PumpDry(
            async (lines, cancel) =>
            {
                var answer = await server.SendAsync(lines, cancel);
                return ++requests % 2 == 1 ? new(Receipt.Later, "the answer never came back") : answer;
            },
            () =>
            {
                // The process dies before it can note anything.
                rig.Restart();
                return Task.CompletedTask;
            });

        Assert.NotEmpty(troubles);
        await AssertSame(rig.Store, database);
    }

    private static void Append(ChamberStore store, int first, int count, string probe) =>
        store.Journal.Append(DataFile.Minutes(first, count, probe), []);

    private static async Task AssertSame(ChamberStore store, VictoriaMetrics database)
    {
        var stored = await database.Export(Temperatures);
        Assert.Equal(store.Journal.Probes().Select(probe => probe.Text).Order(StringComparer.Ordinal),
            stored.Select(series => series.Labels["probe"]).Order(StringComparer.Ordinal));
        foreach (var series in stored)
        {
            var kept = store.Journal.Read(new(series.Labels["probe"]), new Interval(null, null))
                .Select(reading => (reading.MeasuredAt.ToUnixTimeMilliseconds(), reading.Temperature!.Value.Celsius));
            Assert.Equal(kept, series.Samples);
        }
    }
}
