using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using Chamber.Service.Telemetry;
using Chamber.Testing;

namespace Chamber.Service.Tests.Telemetry;

/// <summary>What the running program tells of itself, to a real scraper and to a collector.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class TelemetryTests : IDisposable
{
    private const string Token = "a-token-for-the-scraper";

    private readonly TempFolder folder = new();
    private readonly int brokerPort = FreePort.Next();
    private readonly int pagePort = FreePort.Next();

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task A_real_scraper_gets_every_metric()
    {
        await using var service = await Started("""{ "prometheus": true }""");
        await using var prometheus = await Prometheus.Start($"127.0.0.1:{pagePort}", "none-needed-here");
        var twice = $$"""{ "temperature": 22, "at": "{{TimeProvider.System.GetUtcNow():yyyy-MM-ddTHH:mm:ssZ}}" }""";
        await Publish("""{ "temperature": 21 }""", twice, "{ this is not JSON", """{ "temperature": 55 }""", twice);

        Assert.Equal(1, await prometheus.Value("chamber_readings_merged_total{outcome=\"dropped\"}", value => value == 1));
        Assert.Equal(4, await prometheus.Value("chamber_readings_total", value => value == 4));
        Assert.Equal(1, await prometheus.Value("chamber_refusals_total{reason=\"malformed\"}", value => value == 1));
        Assert.Equal(1, await prometheus.Value("sum(chamber_alerts_open)", value => value == 1));
        Assert.Equal(5, await prometheus.Value("chamber_messages_received_total", value => value == 5));
        Assert.Equal(5, await prometheus.Value("chamber_messages_committed_total", value => value == 5));
        Assert.InRange(await prometheus.Value("chamber_commit_duration_seconds_count", value => value > 0), 1, 5);
        foreach (var series in new[]
        {
            "chamber_lag_seconds_count", "chamber_fold_duration_seconds_count", "chamber_queue_length", "chamber_queue_limit",
                "chamber_commit_failures_total",
            "chamber_notices_waiting", "chamber_notices_dead", "chamber_database_size_bytes", "sum(chamber_alerts_opened_total)",
                "chamber_commits_total",
        })
        {
            Assert.True(await prometheus.Value(series, value => value >= 0) >= 0, series);
        }
    }

    [Fact]
    public async Task A_real_scraper_sees_the_program_and_the_last_of_each_probe()
    {
        await using var service = await Started("""{ "prometheus": true }""");
        await using var prometheus = await Prometheus.Start($"127.0.0.1:{pagePort}", "none-needed-here");
        var before = TimeProvider.System.GetUtcNow().ToUnixTimeSeconds();
        await Publish("""{ "temperature": 21.5, "humidity": 60, "battery": 88 }""");

        const string Of = "{probe=\"p1\",spot=\"mat\"}";
        Assert.Equal(21.5, await prometheus.Value("chamber_probe_temperature_celsius" + Of, value => value > 0));
        Assert.Equal(60, await prometheus.Value("chamber_probe_humidity_percent" + Of, value => value > 0));
        Assert.Equal(88, await prometheus.Value("chamber_probe_battery_percent" + Of, value => value > 0));
        Assert.Equal(7200, await prometheus.Value("chamber_probe_silence_limit_seconds" + Of, value => value > 0));
        Assert.True(await prometheus.Value("chamber_probe_last_reading_timestamp_seconds" + Of, value => value > 0) >= before - 1);
        Assert.Equal(1, await prometheus.Value("chamber_ready", value => value == 1));
        Assert.Equal(1, await prometheus.Value("chamber_build_info{version=~\"[0-9]+[.].+\",runtime=~\"10[.].+\"}", value => value == 1));

        // Of the machine's own word: the pages of the process that are resident, within a factor of two of what moves meanwhile.
        var resident = File.ReadLines($"/proc/{service.Id}/status").Single(line => line.StartsWith("VmRSS:", StringComparison.Ordinal));
        var bytes = double.Parse(resident.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2], CultureInfo.InvariantCulture) * 1024;
        Assert.InRange(await prometheus.Value("process_resident_memory_bytes{job=\"chamber\"}", value => value > 0), bytes / 2, bytes * 2);
        Assert.True(await prometheus.Value("process_cpu_seconds_total{job=\"chamber\"}", value => value > 0) > 0);
        Assert.InRange(await prometheus.Value("process_start_time_seconds{job=\"chamber\"}", value => value > 0), before - 600, before + 1);
        Assert.True(await prometheus.Value("process_open_fds{job=\"chamber\"}", value => value > 0) > 10);
    }

    [Fact]
    public async Task A_collector_gets_metrics_and_spans()
    {
        await using var collector = await Collector.Start();
        await using var service = await Started($$"""{ "prometheus": false, "otlp": "{{collector.Url}}", "every": "1s" }""");
        await Publish("""{ "temperature": 55 }""");
        await service.Line("Danger");

        // Whatever waits is sent at a tidy end.
        service.AskToStop();
        Assert.Equal(0, (await service.End()).ExitCode);

        Assert.Superset(
            new HashSet<string> { "chamber.readings", "chamber.refusals", Signals.CommitTimeName, Signals.LagName, Signals.FoldTimeName,
            "chamber.queue.length", "chamber.alerts.open", "span commit", "span fold" }, collector.Names.ToHashSet());
        Assert.Equal(HttpStatusCode.NotFound, (await Fetch(null, foreign: false)).StatusCode);
    }

    [Fact]
    public async Task From_elsewhere_the_metrics_ask_for_the_token()
    {
        await using var service = await Started($$"""{ "token": "{{Token}}" }""");

        Assert.Equal(HttpStatusCode.OK, (await Fetch(null, foreign: false)).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await Fetch(null, foreign: true)).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await Fetch("a-token-for-the-scrapes", foreign: true)).StatusCode);
        var allowed = await Fetch(Token, foreign: true);
        Assert.Equal(HttpStatusCode.OK, allowed.StatusCode);
        Assert.Contains("chamber_queue_limit", await allowed.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_the_setting_there_is_nothing_to_fetch()
    {
        await using var service = await Started("null");
        Assert.Equal(HttpStatusCode.NotFound, (await Fetch(null, foreign: false)).StatusCode);
    }

    [Fact]
    public void While_nobody_listens_nothing_is_recorded_and_no_span_is_made()
    {
        Assert.False(Signals.CommitTime.Enabled || Signals.Lag.Enabled || Signals.FoldTime.Enabled || Signals.AlertsOpened.Enabled);
        Assert.Equal(0, Signals.Begin(Signals.CommitTime, TimeProvider.System));
        Assert.Null(Signals.Spans.StartActivity("commit"));
    }

    private async Task<RunningProgram> Started(string telemetry)
    {
        var setting = telemetry == "null" ? "" : $", \"telemetry\": {telemetry}";
        folder.Write("chamber.json",
            $$"""{ "broker": { "listen": [{ "port": {{brokerPort}} }] }, "page": { "port": {{pagePort}} }{{setting}} }""");
        (await ChamberProcess.Run("spot", "add", "mat", "--data", folder.Path)).Succeeded();
        (await ChamberProcess.Run("probe", "add", "p1", "--measures", "media", "--spot", "mat", "--data", folder.Path)).Succeeded();
        var service = ChamberProcess.Start("run", "--data", folder.Path);
        await service.Line("Chamber is ready");
        return service;
    }

    // Acknowledged, so stored, when this returns.
    private async Task Publish(params string[] payloads)
    {
        foreach (var payload in payloads)
        {
            (await RunningProgram.Run("mosquitto_pub",
                ["-h", "127.0.0.1", "-p", $"{brokerPort}", "-q", "1", "-t", "chamber/p1/reading", "-m", payload])).Succeeded();
        }
    }

    // A request that came through a proxy is never taken as one of this machine.
    private async Task<HttpResponseMessage> Fetch(string? token, bool foreign)
    {
        using var http = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false });
        using var request = new HttpRequestMessage(HttpMethod.Get, $"http://127.0.0.1:{pagePort}{TelemetryModule.MetricsPath}");
        request.Headers.Authorization = token is null ? null : new AuthenticationHeaderValue("Bearer", token);
        if (foreign)
        {
            request.Headers.Add("X-Forwarded-For", "192.0.2.7");
        }

        try
        {
            return await http.SendAsync(request, TestContext.Current.CancellationToken);
        }
        catch (HttpRequestException)
        {
            return new(HttpStatusCode.NotFound);
        }
    }
}
