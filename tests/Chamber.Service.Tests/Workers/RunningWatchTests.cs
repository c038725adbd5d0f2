using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Tests.Notify;
using Chamber.Service.Tests.Rig;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>The built program over a real data file: what only the service can know reaches the watch, and a restart neither repeats nor
/// forgets.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class RunningWatchTests : IDisposable
{
    private static readonly ProbeId Probe = new("soil");
    private static readonly SpotId Mat = new("mat");
    private static readonly BatchId Batch = new("T1");

    private readonly TempFolder folder = new();
    private readonly int port = FreePort.Next();
    private readonly Instant now = Instant.FromUnixTimeSeconds(TimeProvider.System.GetUtcNow().ToUnixTimeSeconds());

    private int heat;

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_batch_that_may_be_up_is_to_be_looked_at_and_a_look_ends_that()
    {
        WriteHome(sownBefore: Duration.FromDays(7));
        await using var service = await Ready();
        await service.Line("Look at T1");
        await Ask("look", "T1", "0");
        await service.Line("Look at T1: closed");
    }

    [Fact]
    public async Task Waiting_that_is_over_by_the_forecast_is_told_once_also_over_a_restart()
    {
        WriteHome(sownBefore: Duration.FromDays(45), new Look(now - Duration.FromHours(2), 0));
        await using (var service = await Ready())
        {
            await service.Line("T1: no more are likely to come");
            await service.Kill();
        }

        await using var again = await Ready();
        await again.Line("Watching 1 spot,");
        await Ask("read", "mat", "55C", "--sure");
        await again.Line("Danger: 55.0 °C on mat");

        // It is recorded that people were told after the log has it, and before a stop.
        again.AskToStop();
        await again.End();
        Assert.DoesNotContain("no more are likely", again.Output, StringComparison.Ordinal);
        using var store = Store();
        var entry = Assert.Single(store.Ledger.Alerts.Open(), entry => entry.Kind == AlertKind.StopWaiting);
        Assert.Equal(1, entry.Notified.Times);
    }

    [Fact]
    public async Task A_cover_that_stays_shut_is_told_and_taking_it_off_ends_that()
    {
        WriteHome(sownBefore: Duration.FromDays(7), new Look(now - Duration.FromHours(30), 3));
        await using var service = await Ready();
        await service.Line("T1: the cover is still on");
        await Ask("stage", "T1", "uncovered");
        await service.Line("T1: the cover is still on: closed");
    }

    [Fact]
    public async Task Seedlings_that_were_moved_to_a_bright_spot_are_no_longer_in_the_dark()
    {
        WriteHome(sownBefore: Duration.FromDays(9), new Look(now - Duration.FromDays(3), 5));
        await Ask("spot", "add", "sill", "--kind", "sill", "--light", "bright");
        await using var service = await Ready();
        await service.Line("T1 is up, in the warm and dark");
        await Ask("stage", "T1", "moved-to-light", "--to", "sill");
        await service.Line("T1 is up, in the warm and dark: closed");
    }

    [Fact]
    public async Task A_batch_that_ends_ends_its_alerts_because_it_is_gone()
    {
        WriteHome(sownBefore: Duration.FromDays(7), new Look(now - Duration.FromHours(30), 3));
        await using var service = await Ready();
        await service.Line("T1: the cover is still on");
        await Ask("end", "T1");
        await service.Line("T1: the cover is still on: closed (Gone)");
    }

    [Fact]
    public async Task What_ended_before_the_refolded_time_is_not_told_after_a_restart()
    {
        WriteHome(sownBefore: Duration.FromDays(60), new Look(now - Duration.FromDays(50), 3));
        using (var store = Store())
        {
            store.Ledger.Batches.Record(Batch, new Stage(StageKind.Uncovered, now - Duration.FromDays(40)));
        }

        await using var service = await Ready();
        await service.Line("Watching 1 spot,");
        await Ask("read", "mat", "55C", "--sure");
        await service.Line("Danger: 55.0 °C on mat");
        Assert.DoesNotContain("the cover is still on", service.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_seen_and_told_stays_so_over_a_kill_and_a_restart()
    {
        await using var peer = await HttpPeer.StartAsync();
        WriteHome(sownBefore: Duration.FromDays(1), hook: peer.Url);
        await using (var service = await Ready())
        {
            await Ask("read", "soil", "45C", "--sure");
            Assert.Contains("alert-1-opened", await Body(peer), StringComparison.Ordinal);
            await Ask("alerts", "seen", "1", "--by", "Ada");
            await service.Kill();
        }

        await using var again = await Ready();
        await Ask("read", "soil", "52C", "--sure");
        Assert.Contains("alert-1-worse-danger", await Body(peer), StringComparison.Ordinal);
        Assert.Single(peer.Requests, request => Text(request).Contains("alert-1-opened", StringComparison.Ordinal));
        using var store = Store();
        Assert.Equal("Ada", Assert.Single(store.Ledger.Alerts.Open()).SeenBy);
    }

    [Fact]
    public async Task Refusals_of_the_last_day_count_after_a_restart_too()
    {
        WriteHome(sownBefore: Duration.FromDays(1));
        using (var store = Store())
        {
            store.Journal.Append([], [.. Enumerable.Range(1, 3).Select(minute => new Refusal(
                now - Duration.FromMinutes(minute), "chamber/soil/reading", Probe, "temperature", RefusalReason.Sentinel, "85",
                    "Check its wiring."))]);
        }

        await using var service = await Ready();
        await service.Line("soil is faulty");
    }

    // A probe that had been silent for hours when it was put on the spot, and one whose sensor fails.
    [Fact]
    public async Task Three_starts_change_nothing_of_what_is_open()
    {
        WriteHome(sownBefore: Duration.FromDays(1));
        var moved = new ProbeId("moved");
        using (var store = Store())
        {
            store.Journal.Append(
                [.. Enumerable.Range(0, 60)
                .Select(step => Read(now - Duration.FromHours(5) - Duration.FromMinutes(10 * step), 22) with { Probe = moved })], []);
            store.Ledger.SetUp.Save(new ProbeEntry(new(moved, Measurand.Air, Duration.FromHours(1))));
            store.Ledger.SetUp.Put(moved, Mat, now - Duration.FromHours(2));
            store.Journal.Append([], [.. Enumerable.Range(1, 3).Select(minute => new Refusal(
                now - Duration.FromMinutes(minute), "chamber/soil/reading", Probe, "temperature", RefusalReason.Sentinel, "85",
                    "Check its wiring."))]);
        }

        var first = await Start();
        Assert.Contains(first, alert => alert.Kind == AlertKind.SilentProbe && alert.ClosedAt is null);
        Assert.Contains(first, alert => alert.Kind == AlertKind.FaultyProbe && alert.ClosedAt is null);
        Assert.Equal(Edges(first), Edges(await Start()));
        Assert.Equal(Edges(first), Edges(await Start()));
    }

    private async Task<IReadOnlyList<AlertEntry>> Start()
    {
        await using (var service = await Ready())
        {
            await service.Line("Watching 1 spot,");
            service.AskToStop();
            await service.End();
        }

        using var store = Store();
        return store.Ledger.Alerts.OpenOrClosedSince(Instant.MinValue + Duration.FromDays(1));
    }

    private static List<(long, AlertKind, Instant, Instant, Instant?, CloseReason?)> Edges(IEnumerable<AlertEntry> alerts) =>
        [.. alerts.Select(alert => (alert.Number, alert.Kind, alert.Since, alert.OpenedAt, alert.ClosedAt, alert.CloseReason))];

    [Fact]
    public async Task Under_maintenance_nothing_is_told_and_all_is_recorded()
    {
        await using var peer = await HttpPeer.StartAsync();
        WriteHome(sownBefore: Duration.FromDays(1), hook: peer.Url);
        await Ask("maintenance", "mat", "1h");
        await using var service = await Ready();
        await Ask("read", "soil", "45C", "--sure");
        await service.Line("Heat that harms seed on mat");
        await Ask("read", "soil", "52C", "--sure");
        Assert.Contains("alert-1-opened", await Body(peer), StringComparison.Ordinal);
        Assert.Contains("Danger", Text(Assert.Single(peer.Requests)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_danger_that_came_and_went_in_one_batch_of_readings_is_named()
    {
        WriteHome(sownBefore: Duration.FromDays(3));
        using (var store = Store())
        {
            var yesterday = now - Duration.FromDays(1) + Duration.FromSeconds(30);
            store.Journal.Append([.. Enumerable.Range(0, 10).Select(step => Read(yesterday + Duration.FromMinutes(2 * step), 52))], []);
        }

        await using var service = await Ready();
        await service.Line("Danger: 52.0 °C on mat. More: chamber alerts");
        await service.Line("Danger: 52.0 °C on mat: closed");
    }

    [Fact]
    public async Task Readings_that_are_set_aside_end_at_once_what_they_told_and_back_again()
    {
        WriteHome(sownBefore: Duration.FromDays(1));
        await using var service = await Ready();
        await Ask("read", "soil", "45C", "--sure");
        await service.Line("Heat that harms seed on mat");
        await Ask("set-aside", "soil", "--from", Iso(now - Duration.FromMinutes(5)), "--to", Iso(now + Duration.FromHours(1)));
        await service.Line("Heat that harms seed on mat: closed (Withdrawn)");
        await Ask("undo");
        await service.Line(line => line.Contains("Heat that harms seed on mat. ", StringComparison.Ordinal) && ++heat == 2);
    }

    [Fact]
    public async Task A_spot_and_a_probe_that_are_renamed_keep_their_alert()
    {
        WriteHome(sownBefore: Duration.FromDays(1));
        await using var service = await Ready();
        await Ask("read", "soil", "45C", "--sure");
        await service.Line("Heat that harms seed on mat");
        await Ask("rename", "spot", "mat", "warm-mat");
        await Ask("rename", "probe", "soil", "root");
        await Ask("read", "root", "52C", "--sure");
        await service.Line("Danger: 52.0 °C on warm-mat");
        service.AskToStop();
        await service.End();
        using var store = Store();
        var alert = Assert.Single(store.Ledger.Alerts.OpenOrClosedSince(now - Duration.FromDays(1)), one => one.Kind == AlertKind.Hazard);
        Assert.Equal(AlertSubject.Of(new SpotId("warm-mat")), alert.Subject);
    }

    [Fact]
    public async Task Limits_of_the_user_are_in_force()
    {
        WriteHome(sownBefore: Duration.FromDays(1), more: "\"alertLimits\": { \"hazard danger\": \"45\" },");
        await using var service = await Ready();
        await Ask("read", "mat", "46C", "--sure");
        await service.Line("Danger: 46.0 °C on mat");
    }

    private static string Iso(Instant at) => NodaTime.Text.InstantPattern.ExtendedIso.Format(at);

    private static string Text(HttpPeer.Request request) => System.Text.Encoding.UTF8.GetString(request.Body);

    private static async Task<string> Body(HttpPeer peer) => Text(await peer.Next());

    /// <summary>A mat at 26 °C with a media probe, and a batch of tomatoes on it.</summary>
    private void WriteHome(Duration sownBefore, Look? look = null, string? hook = null, string more = "")
    {
        var notices = hook is null ? "" : $$"""  "notices": { "webhook": { "url": "{{hook}}" } },  """;

        folder.Write("chamber.json",
            $$"""{ {{NightElsewhen.Of(now)}} {{notices}} {{more}} "broker": { "listen": [{ "port": {{port}} }] }, "page": { "on": false } }""");
        using var store = Store();
        var start = now - sownBefore;
        store.Ledger.SetUp.Save(new Spot(Mat, SpotKind.HeatMat, LightLevel.Dim, 2));
        store.Ledger.SetUp.Save(new ProbeEntry(new(Probe, Measurand.Media, Duration.FromHours(2))));
        store.Ledger.SetUp.Put(Probe, Mat, start);
        store.Ledger.Batches.Sow(
            new(Batch, new("tomato"), null, SowingMethod.CoveredMix, start, 12, [new(Mat, new(start, null))], look is null ? [] : [look]));
        var readings = new List<Reading>();
        for (var at = start; at < now; at += Duration.FromMinutes(30))
        {
            readings.Add(Read(at, 26 + readings.Count % 2 * 0.1));
        }

        store.Journal.Append(readings, []);
    }

    private static Reading Read(Instant at, double celsius) => new(Probe, at, at, Temperature.FromCelsius(celsius));

    private ChamberStore Store() => ChamberStore.Open(folder.File("chamber.db"));

    private async Task<RunningProgram> Ready()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    private async Task Ask(params string[] arguments) =>
        (await ChamberProcess.Run([.. arguments, "--data", folder.Path])).Succeeded();
}
