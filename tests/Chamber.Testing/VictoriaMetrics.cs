using System.Globalization;
using System.Text.Json;

namespace Chamber.Testing;

/// <summary>
/// A foreign server of long histories, from Debian's package, on a free port of the loopback address: it takes lines by the InfluxDB v2
/// write API, and tells by its own read side what it has. Its data outlives a stop. Told to keep one of several samples of the same
/// millisecond, as the write API's own server does.
/// </summary>
public sealed class VictoriaMetrics : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly HttpClient http = new() { Timeout = RunningProgram.Patience };
    private RunningProgram server;

    private VictoriaMetrics(int port)
    {
        Port = port;
        server = Launch();
    }

    public int Port { get; }

    public string Url => $"http://127.0.0.1:{Port}";

    public static async Task<VictoriaMetrics> Start()
    {
        var started = new VictoriaMetrics(FreePort.Next());
        await started.Ready();
        return started;
    }

    /// <summary>Asks it to stop; what it has acknowledged is then on its disk.</summary>
    public async Task Stop()
    {
        server.PressControlC();
        await server.End();
        await server.DisposeAsync();
    }

    /// <summary>On the same port with the same data.</summary>
    public async Task StartAgain()
    {
        server = Launch();
        await Ready();
    }

    /// <summary>Every sample of the series that a selector finds, raw: labels, times in milliseconds, values.</summary>
    public async Task<IReadOnlyList<StoredSeries>> Export(string selector)
    {
        await Flush();
        var text = await http.GetStringAsync(new Uri($"{Url}/api/v1/export?match[]={Uri.EscapeDataString(selector)}"));
        return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(Series)
            .GroupBy(series => string.Join(',', series.Labels.OrderBy(label => label.Key, StringComparer.Ordinal)))
            .Select(parts => new StoredSeries(parts.First().Labels,
                [.. parts.SelectMany(part => part.Samples).OrderBy(sample => sample.Milliseconds)]))];
    }

    /// <summary>What it answers a query over a time: the JSON of the Prometheus query API.</summary>
    public async Task<JsonElement> QueryRange(string query, DateTimeOffset from, DateTimeOffset to, string step)
    {
        await Flush();
        var address = string.Create(CultureInfo.InvariantCulture,
            $"{Url}/api/v1/query_range?query={Uri.EscapeDataString(query)}&start={from.ToUnixTimeSeconds()}&end={to.ToUnixTimeSeconds()}&step={step}&nocache=1");
        return await Answer(address);
    }

    /// <summary>What it answers a query at a moment.</summary>
    public async Task<JsonElement> Query(string query, DateTimeOffset at)
    {
        await Flush();
        return await Answer(string.Create(CultureInfo.InvariantCulture,
            $"{Url}/api/v1/query?query={Uri.EscapeDataString(query)}&time={at.ToUnixTimeSeconds()}&nocache=1"));
    }

    /// <summary>Gives it lines in the text format of Prometheus.</summary>
    public async Task Import(string text)
    {
        using var content = new StringContent(text);
        using var response = await http.PostAsync(new Uri($"{Url}/api/v1/import/prometheus"), content);
        response.EnsureSuccessStatusCode();
    }

    public async ValueTask DisposeAsync()
    {
        await server.DisposeAsync();
        http.Dispose();
        folder.Dispose();
    }

    private static StoredSeries Series(string line)
    {
        using var document = JsonDocument.Parse(line);
        var labels = document.RootElement.GetProperty("metric").EnumerateObject()
            .ToDictionary(label => label.Name, label => label.Value.GetString()!);
        var times = document.RootElement.GetProperty("timestamps").EnumerateArray().Select(time => time.GetInt64());
        var values = document.RootElement.GetProperty("values").EnumerateArray().Select(value => value.GetDouble());
        return new(labels, [.. times.Zip(values, (time, value) => (time, value))]);
    }

    private async Task<JsonElement> Answer(string address)
    {
        using var response = await http.GetAsync(new Uri(address));
        using var document = JsonDocument.Parse(await response.Content.ReadAsStringAsync());
        return document.RootElement.Clone();
    }

    // What came in during the last second is only seen after that.
    private async Task<string?> Flush() => await http.GetStringAsync(new Uri($"{Url}/internal/force_flush"));

    private RunningProgram Launch() => RunningProgram.Start("victoria-metrics",
        [$"-httpListenAddr=127.0.0.1:{Port}", $"-storageDataPath={folder.Path}", "-retentionPeriod=100y", "-dedup.minScrapeInterval=1ms",
            "-search.disableCache"]);

    // It says that it starts a moment before it listens: until then a connection is refused at once.
    private async Task Ready()
    {
        await server.Line("starting http server at");
        await Wait.Until("victoria-metrics to listen", async () => server.HasExited
            ? throw new InvalidOperationException($"It ended.\n{server.Errors}") : await Flush());
    }
}

/// <summary>One series as it is stored.</summary>
public sealed record StoredSeries(IReadOnlyDictionary<string, string> Labels, IReadOnlyList<(long Milliseconds, double Value)> Samples);
