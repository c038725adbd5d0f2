using System.Globalization;
using Chamber.Core.Alerts;
using Chamber.Core.Crops;
using Chamber.Service.Boards;
using Chamber.Service.Configuration;
using Chamber.Service.Demo;
using Chamber.Service.Home;
using Chamber.Service.Mirror;
using Chamber.Storage;
using Chamber.Testing;
using Microsoft.Extensions.Time.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Boards;

/// <summary>Every query of every board on a real server, over the simulated flat as the mirror sends it and the metrics as the service
/// shows them.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class BoardQueryTests(MirroredFlat flat) : IClassFixture<MirroredFlat>
{
    public static TheoryData<string, string> Queries =>
        [.. from board in BoardList.All from panel in board.Panels select (board.Name, panel.Title)];

    [Theory]
    [MemberData(nameof(Queries))]
    public async Task A_query_returns_rows(string board, string title)
    {
        var panel = BoardList.All.Single(known => known.Name == board).Panels.Single(known => known.Title == title);
        foreach (var query in panel.Queries)
        {
            var filled = flat.Filled(query.Expression);
            var answer = await flat.Server.QueryRange(filled, flat.Until.AddHours(-2), flat.Until, "60");

            Assert.True(answer.GetProperty("status").GetString() == "success", $"{filled}\n{answer}");
            Assert.True(answer.GetProperty("data").GetProperty("result").GetArrayLength() > 0, $"No rows for {filled}");
        }
    }

    [Fact]
    public async Task The_choices_of_a_board_are_there()
    {
        foreach (var choice in BoardList.All.SelectMany(board => board.Choices))
        {
            var answer = await flat.Server.Query($"count by ({choice.Name}) (last_over_time({choice.Series}[2h]))", flat.Until);
            Assert.True(answer.GetProperty("data").GetProperty("result").GetArrayLength() > 3, choice.Name);
        }
    }

    [Fact]
    public async Task A_spot_has_the_temperature_of_its_probes()
    {
        var spot = flat.Store.Ledger.SetUp.Stations()[0];
        var answer = await flat.Server.QueryRange(
            "count by (spot) (last_over_time(chamber_reading_temperature_celsius[15m]) " + Chamber.Service.Boards.Queries.OnSpot + ")",
                flat.Until.AddHours(-1), flat.Until, "600");

        var spots = answer.GetProperty("data").GetProperty("result").EnumerateArray()
            .Select(row => row.GetProperty("metric").GetProperty("spot").GetString()!).ToList();
        Assert.Contains(spot.Spot.Text, spots);
        Assert.Equal(spots.Count, spots.Distinct().Count());
    }
}

/// <summary>Two weeks of the simulated flat, mirrored to a real server once for all queries.</summary>
public sealed class MirroredFlat : IAsyncLifetime
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 2, 12, 30);

    private readonly TempFolder folder = new();

    internal VictoriaMetrics Server { get; private set; } = null!;

    internal ChamberStore Store { get; private set; } = null!;

    internal DateTimeOffset Until { get; } = Now.ToDateTimeOffset();

    public async ValueTask InitializeAsync()
    {
        Server = await VictoriaMetrics.Start();
        var data = new DataDirectory(Path.Combine(folder.Path, "flat"));
        var settings = new Settings { Mappings = DemoMessages.Mappings, Mirror = new() { Url = Server.Url } };
        new DemoHome(data, settings, Now, DateTimeZone.Utc, seed: 1).Furnish(_ => { }, CancellationToken.None);
        Store = ChamberStore.Open(data.Database);
        var opened = Now - Duration.FromHours(5);
        Store.Ledger.Alerts.Save(
            new AlertEntry(0, AlertKind.TooCold, AlertSubject.Of(Store.Ledger.SetUp.Spots()[0].Id), Severity.Warning, opened, opened,
                "{}"));
        var clock = new FakeTimeProvider(Until);
        using var server = new MirrorServer(settings.Mirror, data);
        var pump = new MirrorPump(Store, settings.Mirror, server.SendAsync,
            new(Store, () => new HomeReader(Store.Home, Store.Records, CropCatalog.Shipped, DateTimeZone.Utc)), new(data), clock);
        do
        {
            var step = await pump.StepAsync(CancellationToken.None);
            Assert.Null(step.Trouble);
        }
        while (pump.HasMore);
        await ImportMetrics();
    }

    public async ValueTask DisposeAsync()
    {
        Store.Dispose();
        await Server.DisposeAsync();
        folder.Dispose();
    }

    /// <summary>A query as the dashboard server sends it, with what was chosen filled in.</summary>
    internal string Filled(string query)
    {
        var batch = Store.Ledger.Batches.All(open: true).First(known => known.Looks.Any(look => look.Up > 0));
        var humid = Store.Ledger.SetUp.Stations()
            .Where(station => Store.Journal.Latest(station.Probe, Now)?.Humidity is { } known && known.At > Now - Duration.FromHours(1))
            .Select(station => station.Spot).ToHashSet();
        var spot = Store.Ledger.Batches.All(open: true).Select(known => known.Stays[^1].Spot).First(humid.Contains);
        return query
            .Replace("$spot", spot.Text, StringComparison.Ordinal)
            .Replace("$batch", batch.Id.Text, StringComparison.Ordinal)
            .Replace("$__rate_interval", "4m", StringComparison.Ordinal)
            .Replace("$__range", "14d", StringComparison.Ordinal);
    }

    // What a scraper would have fetched in the last two hours from a service that is as busy in each minute as the real one was in its
    // first.
    private async Task ImportMetrics()
    {
        var page = (await MetricsPage()).Split('\n').Where(line => line.Length > 0 && !line.StartsWith('#')).ToList();
        for (var minute = 0; minute <= 120; minute++)
        {
            var at = Until.AddMinutes(minute - 120).ToUnixTimeMilliseconds();
            await Server.Import(string.Join('\n', page.Select(line => Line(line, minute + 1, at))));
        }
    }

    private static string Line(string line, int times, long at)
    {
        var end = line.LastIndexOf(' ');
        var name = line.Split('{', ' ')[0];
        var counts = name.EndsWith("_total", StringComparison.Ordinal) || name.EndsWith("_bucket", StringComparison.Ordinal)
            || name.EndsWith("_count", StringComparison.Ordinal);
        var value = double.Parse(line[end..], CultureInfo.InvariantCulture) * (counts ? times : 1);
        return string.Create(CultureInfo.InvariantCulture, $"{line[..end]} {value} {at}");
    }

    private async Task<string> MetricsPage()
    {
        var (broker, page) = (FreePort.Next(), FreePort.Next());
        var home = Path.Combine(folder.Path, "service");
        folder.Write("service/chamber.json",
            $$"""{ "broker": { "listen": [{ "port": {{broker}} }] }, "page": { "port": {{page}} }, "telemetry": {}, "mirror": { "url": "{{Server.Url}}", "bucket": "other" } }""");
        await using var service = ChamberProcess.Start("run", "--data", home);
        await service.Line("Chamber is ready");
        foreach (var payload in (string[])["""{ "temperature": 55 }""", "{ not JSON"])
        {
            (await RunningProgram.Run("mosquitto_pub",
                ["-h", "127.0.0.1", "-p", $"{broker}", "-q", "1", "-t", "chamber/other/reading", "-m", payload])).Succeeded();
        }

        using var http = new HttpClient();

        // The fold of what was stored comes a moment after it.
        return await Wait.Until("the time of a fold among the metrics", async () =>
            await http.GetStringAsync(new Uri($"http://127.0.0.1:{page}/metrics")) is var text
                && text.Contains("chamber_fold_duration_seconds_count", StringComparison.Ordinal) ? text : null);
    }
}
