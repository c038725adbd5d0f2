using System.Globalization;
using System.Net;
using System.Text.Json;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Storage;
using Chamber.Testing;
using MQTTnet;
using MQTTnet.Protocol;
using NodaTime;

namespace Chamber.Service.Tests.Workers;

/// <summary>Pages in the middle of the data file are overwritten while the built program has it open, as a failing disk or a stray program
/// does.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class DamagedFileTests : IDisposable
{
    private const int PageSize = 4096;
    private const int Seed = 20261129;
    private const string Said = "chamber.db: the file is damaged. Stop the service, keep a copy of the file, and restore the newest backup "
        + "(chamber check says whether it is whole).";

    private readonly TempFolder folder = new();
    private readonly HttpClient http = new();
    private readonly int port = FreePort.Next();
    private readonly int page = FreePort.Next();
    private readonly Instant now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());

    public DamagedFileTests() =>
        folder.Write("chamber.json",
        $$"""{ "home": { "zone": "UTC" }, "broker": { "listen": [{ "port": {{port}} }] }, "page": { "port": {{page}} } }""");

    private string Database => folder.File("chamber.db");

    public void Dispose()
    {
        http.Dispose();
        folder.Dispose();
    }

    [Fact]
    public async Task What_lies_on_damaged_pages_is_told_as_damaged_and_the_rest_goes_on()
    {
        Furnish();
        await using var service = await Ready();
        await service.Line("Nothing heard from mat-probe");
        var damage = Overwrite(from: 60, to: 150);
        using var client = await Connected();

        var (status, shelf) = await Get("/spots/shelf");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, status);
        Assert.Contains("This page cannot be shown", shelf, StringComparison.Ordinal);
        Assert.Contains(Said, WebUtility.HtmlDecode(shelf), StringComparison.Ordinal);
        Assert.Contains(folder.Path, await service.Line(Said), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await Get("/spots/sill")).Status);
        var health = JsonDocument.Parse((await Get("/health")).Text).RootElement;
        Assert.Equal((true, false), (health.GetProperty("live").GetBoolean(), health.GetProperty("ready").GetBoolean()));
        Assert.EndsWith(Said, health.GetProperty("trouble").GetString(), StringComparison.Ordinal);

        // One that is late makes the watch fold the damaged spot again; what comes after it on another spot is told all the same.
        await Send(client, "shelf-probe", 21, WholeFrom("shelf-probe") + Duration.FromSeconds(330));
        await Send(client, "shelf-probe", 22, now + Duration.FromSeconds(1));
        await Send(client, "sill-probe", 55, now + Duration.FromSeconds(2));
        await service.Line("Danger: 55.0 °C on sill");

        var backup = await ChamberProcess.Run("backup", folder.File("copy.db"), "--data", folder.Path);
        Assert.Equal((1, false), (backup.ExitCode, File.Exists(folder.File("copy.db"))));
        Assert.Contains(Said, backup.Errors, StringComparison.Ordinal);
        Assert.Contains("damaged", (await ChamberProcess.Run("check", "--data", folder.Path)).Output, StringComparison.Ordinal);
        Assert.False(service.HasExited);
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);

        // With the lost pages back the file is whole: nothing was built upon what could not be read.
        damage.PutBack();
        ChamberStore.Verify(Database);
        using var store = ChamberStore.Open(Database);
        Assert.Equal([AlertKind.SilentProbe, AlertKind.Hazard],
            store.Ledger.Alerts.Open().OrderBy(alert => alert.Number).Select(alert => alert.Kind));
        Assert.Equal(Minutes + 2, store.Journal.Read(new ProbeId("shelf-probe"), new(null, null)).Count());
        Assert.Equal(Minutes + 1, store.Journal.Read(new ProbeId("sill-probe"), new(null, null)).Count());
        Assert.Empty(store.Journal.Refusals());
    }

    [Fact]
    public async Task Restarted_without_its_past_the_watch_tells_danger_and_retracts_nothing()
    {
        Furnish();
        await using (var first = await Ready())
        {
            await first.Line("Nothing heard from mat-probe");
            Overwrite(from: 60, to: 150);
            await first.Kill();
        }

        var before = Alerts();
        await using var service = await Ready();
        await service.Line("The past cannot be read, so only danger is reported");
        using var client = await Connected();
        await Send(client, "sill-probe", 55, now + Duration.FromSeconds(2));
        await service.Line("Danger: 55.0 °C on sill");
        await Send(client, "sill-probe", 25, now + Duration.FromSeconds(3));
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);

        Assert.Equal(before, Alerts().Where(alert => alert.Kind != AlertKind.Hazard));
        Assert.Single(Alerts(), alert => alert.Kind == AlertKind.Hazard);
    }

    [Fact]
    public async Task New_readings_wait_unacknowledged_while_their_pages_are_damaged()
    {
        Furnish();
        (await ChamberProcess.Run("backup", folder.File("copy.db"), "--data", folder.Path)).Succeeded();
        Overwrite(from: 60, to: int.MaxValue);
        await using (var service = await Ready())
        {
            using var client = await Connected();
            var sending = Send(client, "sill-probe", 23, now + Duration.FromSeconds(1));
            Assert.EndsWith(Said, await service.Line("could not be stored. It is not acknowledged and not lost"), StringComparison.Ordinal);
            Assert.Contains("Nothing can be stored, so nothing is watched", WebUtility.HtmlDecode((await Get("/set-up")).Text),
                StringComparison.Ordinal);
            Assert.False(sending.IsCompleted);
            service.AskToStop();
            Assert.Equal(0, (await service.End()).ExitCode);
            await Assert.ThrowsAnyAsync<Exception>(() => sending);
        }

        (await ChamberProcess.Run("restore", folder.File("copy.db"), "--data", folder.Path)).Succeeded();
        await using var repaired = await Ready();
        using var again = await Connected();
        await Send(again, "sill-probe", 23, now + Duration.FromSeconds(1));
        using var store = ChamberStore.Open(Database);
        Assert.Equal(Minutes + 1, store.Journal.Read(new ProbeId("sill-probe"), new(null, null)).Count());
        Assert.Empty(store.Journal.Refusals());
    }

    // The readings of one probe lie behind those of the other, each in a run of pages, so that a part of the first alone can be hit.
    private const int Minutes = 20 * 24 * 60;

    private void Furnish()
    {
        using var store = ChamberStore.Open(Database);
        foreach (var name in new[] { "shelf", "sill", "mat" })
        {
            var (spot, probe) = (new SpotId(name), new ProbeId($"{name}-probe"));
            store.Ledger.SetUp.Save(new Spot(spot, SpotKind.Shelf, LightLevel.Dim, 4));
            store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Air, Probe.DefaultMaxGap)));
            store.Ledger.SetUp.Put(probe, spot, now - Duration.FromDays(21));
        }

        store.Journal.Append([Reading("mat-probe", now - Duration.FromHours(30))], []);
        store.Journal.Append(
            [.. Enumerable.Range(0, Minutes).Select(minute => Reading("shelf-probe", now - Duration.FromMinutes(Minutes - minute)))], []);
        store.Journal.Append(
            [.. Enumerable.Range(0, Minutes).Select(minute => Reading("sill-probe", now - Duration.FromMinutes(Minutes - minute)))], []);
    }

    private static Reading Reading(string probe, Instant at) =>
        new(new(probe), at, at, Temperature.FromCelsius(20 + at.ToUnixTimeSeconds() / 60 % 30 / 10.0));

    private Damage Overwrite(int from, int to)
    {
        using var stream = File.Open(Database, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite);
        var random = new Random(Seed);
        var damage = new Damage(Database);
        for (var number = from; number < Math.Min(to, stream.Length / PageSize); number++)
        {
            var (lost, bytes) = (new byte[PageSize], new byte[PageSize]);
            stream.Position = number * PageSize;
            stream.ReadExactly(lost);
            random.NextBytes(bytes);
            stream.Position = number * PageSize;
            stream.Write(bytes);
            damage.Pages.Add((number, lost, bytes));
        }

        stream.Flush(flushToDisk: true);
        return damage;
    }

    /// <summary>From when on the readings of a probe can be read, to the minute.</summary>
    private Instant WholeFrom(string probe)
    {
        using var store = ChamberStore.Open(Database, new() { ReadOnly = true });
        var (good, bad) = (1, Minutes);
        while (bad - good > 1)
        {
            var minute = (good + bad) / 2;
            (good, bad) = CanRead(store, probe, now - Duration.FromMinutes(minute)) ? (minute, bad) : (good, minute);
        }

        return now - Duration.FromMinutes(good);
    }

    private bool CanRead(ChamberStore store, string probe, Instant from)
    {
        try
        {
            return store.Journal.Read(new ProbeId(probe), new(from, null)).Last().MeasuredAt < now;
        }
        catch (StoreException)
        {
            return false;
        }
    }

    private List<AlertEntry> Alerts()
    {
        using var store = ChamberStore.Open(Database);
        return [.. store.Ledger.Alerts.Since(Instant.MinValue)];
    }

    private async Task<RunningProgram> Ready()
    {
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        await service.Line("Watching ");
        return service;
    }

    private async Task<IMqttClient> Connected()
    {
        var client = new MqttClientFactory().CreateMqttClient();
        await client.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", port).WithTimeout(RunningProgram.Patience)
            .Build(), TestContext.Current.CancellationToken);
        return client;
    }

    private static async Task Send(IMqttClient client, string probe, double celsius, Instant at) => await client.PublishStringAsync(
        $"chamber/{probe}/reading",
        string.Create(CultureInfo.InvariantCulture, $$"""{"temperature":{{celsius}},"at":{{at.ToUnixTimeMilliseconds()}}}"""),
        MqttQualityOfServiceLevel.AtLeastOnce,
        cancellationToken: TestContext.Current.CancellationToken);

    private async Task<(HttpStatusCode Status, string Text)> Get(string path)
    {
        using var answer = await http.GetAsync(new Uri($"http://127.0.0.1:{page}{path}"), TestContext.Current.CancellationToken);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    private sealed record Damage(string File)
    {
        public List<(int Number, byte[] Lost, byte[] Bytes)> Pages { get; } = [];

        /// <summary>Puts the lost pages back, but not over one that was written whole since.</summary>
        public void PutBack()
        {
            using var stream = System.IO.File.Open(File, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite);
            foreach (var (number, lost, bytes) in Pages)
            {
                var present = new byte[PageSize];
                stream.Position = number * PageSize;
                stream.ReadExactly(present);
                if (present.AsSpan().SequenceEqual(bytes))
                {
                    stream.Position = number * PageSize;
                    stream.Write(lost);
                }
            }
        }
    }
}
