using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Chamber.Core.Alerts;
using Chamber.Core.Climate;
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
public sealed partial class BoardQueryTests(MirroredFlat flat) : IClassFixture<MirroredFlat>
{
    private static readonly TemperatureScale[] Scales = [TemperatureScale.Celsius, TemperatureScale.Fahrenheit];

    public static TheoryData<TemperatureScale, string, string> Queries =>
        [.. from scale in Scales from board in BoardList.In(scale) from panel in board.Panels select (scale, board.Name, panel.Title)];

    [Theory]
    [MemberData(nameof(Queries))]
    public async Task A_query_returns_rows(TemperatureScale scale, string board, string title)
    {
        var panel = BoardList.In(scale).Single(known => known.Name == board).Panels.Single(known => known.Title == title);
        foreach (var query in panel.Queries)
        {
            var rows = await Rows(query.Expression);
            Assert.All(panel.Columns, column => Assert.All(rows, row =>
                Assert.True(row.GetProperty("metric").TryGetProperty(column.Label, out _), $"{column.Label} in {row}")));
        }
    }

    [Fact]
    public async Task Marks_stand_where_alerts_opened_and_only_while_they_are_open()
    {
        foreach (var board in BoardList.In(TemperatureScale.Celsius).Where(board => board.Name is "chamber-home" or "chamber-service"))
        {
            await Rows(board.Marks.Expression);
        }

        var before = await flat.Server.Query(
            flat.Filled(BoardList.In(TemperatureScale.Celsius)[0].Marks.Expression), MirroredFlat.Opened.ToDateTimeOffset().AddMinutes(-1));
        Assert.Equal(0, before.GetProperty("data").GetProperty("result").GetArrayLength());
    }

    [Fact]
    public async Task Fahrenheit_is_that_of_the_same_temperatures()
    {
        var celsius = await Warmest(TemperatureScale.Celsius);
        Assert.Equal((celsius * 9 / 5) + 32, await Warmest(TemperatureScale.Fahrenheit), 6);
        Assert.InRange(celsius, 15, 60);

        async Task<double> Warmest(TemperatureScale scale)
        {
            var answer = await flat.Server.Query($"max({flat.Filled(BoardList.In(scale)[0].Panels[0].Queries[0].Expression)})", flat.Until);
            return double.Parse(answer.GetProperty("data").GetProperty("result")[0].GetProperty("value")[1].GetString()!,
                CultureInfo.InvariantCulture);
        }
    }

    [Fact]
    public async Task Rules_speak_of_metrics_that_the_service_has()
    {
        var names = AlertRules.All.SelectMany(rule => MetricNames().Matches(rule.Expression)).Select(match => match.Value).Distinct();
        foreach (var name in names)
        {
            await Rows(name);
        }
    }

    [GeneratedRegex("(chamber|process)_[a-z_]+")]
    private static partial Regex MetricNames();

    private async Task<List<JsonElement>> Rows(string query)
    {
        var filled = flat.Filled(query);
        var answer = await flat.Server.QueryRange(filled, flat.Until.AddHours(-2), flat.Until, "60");
        Assert.True(answer.GetProperty("status").GetString() == "success", $"{filled}\n{answer}");
        var rows = answer.GetProperty("data").GetProperty("result").EnumerateArray().ToList();
        Assert.True(rows.Count > 0, $"No rows for {filled}");
        return rows;
    }

    [Fact]
    public async Task The_choices_of_a_board_are_there()
    {
        foreach (var choice in BoardList.In(TemperatureScale.Celsius).SelectMany(board => board.Choices))
        {
            var query = flat.Filled($"count by ({choice.Name}) (last_over_time({choice.Series}[2h]))");
            var answer = await flat.Server.Query(query, flat.Until);
            var offered = answer.GetProperty("data").GetProperty("result").EnumerateArray()
                .Select(row => row.GetProperty("metric").GetProperty(choice.Name).GetString()).ToList();
            Assert.True(choice.IsOpen ? offered is ["shared-flat"] : offered.Count > 3, $"{choice.Name}: {string.Join(", ", offered)}");
        }
    }

    [Fact]
    public async Task A_spot_has_the_temperature_of_its_probes()
    {
        var spot = flat.Store.Ledger.SetUp.Stations()[0];
        var answer = await flat.Server.QueryRange(
            flat.Filled("count by (spot) (last_over_time(chamber_reading_temperature_celsius[15m]) "
                + Chamber.Service.Boards.Queries.OnSpot + ")"), flat.Until.AddHours(-1), flat.Until, "600");

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

    /// <summary>When the one alert opened.</summary>
    internal static readonly Instant Opened = Now - Duration.FromHours(5);

    private readonly TempFolder folder = new();

    internal VictoriaMetrics Server { get; private set; } = null!;

    internal ChamberStore Store { get; private set; } = null!;

    internal DateTimeOffset Until { get; } = Now.ToDateTimeOffset();

    public async ValueTask InitializeAsync()
    {
        Server = await VictoriaMetrics.Start();
        var data = new DataDirectory(Path.Combine(folder.Path, "flat"));
        var settings = new Settings { Mappings = DemoMessages.Mappings, Mirror = new() { Url = Server.Url, Home = "shared-flat" } };
        new DemoHome(data, settings, Now, DateTimeZone.Utc, seed: 1).Furnish(_ => { }, CancellationToken.None);
        Store = ChamberStore.Open(data.Database);
        var opened = Opened;
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
            .Replace("$home", ".*", StringComparison.Ordinal)
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
        (await ChamberProcess.Run("spot", "add", "mat", "--data", home)).Succeeded();
        (await ChamberProcess.Run("probe", "add", "other", "--measures", "media", "--spot", "mat", "--data", home)).Succeeded();
        await using var service = ChamberProcess.Start("run", "--data", home);
        await service.Line("Chamber is ready");
        foreach (var payload in (string[])["""{ "temperature": 55, "humidity": 60, "battery": 80 }""", "{ not JSON"])
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
