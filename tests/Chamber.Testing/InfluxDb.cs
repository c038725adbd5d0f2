using System.Text.Json;

namespace Chamber.Testing;

/// <summary>A foreign server that answers InfluxQL, from Debian's package (InfluxDB 1.6), on a free port of the loopback address. It takes
/// the lines of the mirror at its own older address: the v2 write API came with 1.8.</summary>
public sealed class InfluxDb : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly HttpClient http;
    private readonly RunningProgram server;

    private InfluxDb(int port)
    {
        http = new() { BaseAddress = new($"http://127.0.0.1:{port}"), Timeout = RunningProgram.Patience };
        var settings = folder.Write("influxdb.conf", $"""
            reporting-disabled = true
            bind-address = "127.0.0.1:{FreePort.Next()}"
            [meta]
            dir = "{folder.File("meta")}"
            [data]
            dir = "{folder.File("data")}"
            wal-dir = "{folder.File("wal")}"
            [http]
            bind-address = "127.0.0.1:{port}"
            """);
        server = RunningProgram.Start("influxd", ["run", "-config", settings]);
    }

    public static async Task<InfluxDb> Start()
    {
        var started = new InfluxDb(FreePort.Next());
        await Wait.Until("InfluxDB to listen", async () => started.server.HasExited
            ? throw new InvalidOperationException($"It ended.\n{started.server.Errors}")
            : await started.http.GetStringAsync(new Uri("/ping", UriKind.Relative)));
        await started.Query("CREATE DATABASE chamber", HttpMethod.Post);
        return started;
    }

    /// <summary>Gives it lines whose times are milliseconds.</summary>
    public async Task Write(IEnumerable<string> lines)
    {
        using var content = new StringContent(string.Join('\n', lines));
        using var answer = await http.PostAsync(new Uri("/write?db=chamber&precision=ms", UriKind.Relative), content);
        answer.EnsureSuccessStatusCode();
    }

    /// <summary>What it answers to a query: each row with its time first.</summary>
    public async Task<IReadOnlyList<JsonElement>> Rows(string query)
    {
        var answer = await Query(query, HttpMethod.Get);
        return [.. answer.GetProperty("results").EnumerateArray()
            .SelectMany(result => result.TryGetProperty("series", out var series) ? series.EnumerateArray() : [])
            .SelectMany(series => series.GetProperty("values").EnumerateArray())];
    }

    public async ValueTask DisposeAsync()
    {
        await server.DisposeAsync();
        http.Dispose();
        folder.Dispose();
    }

    private async Task<JsonElement> Query(string query, HttpMethod method)
    {
        using var request = new HttpRequestMessage(method, new Uri($"/query?db=chamber&q={Uri.EscapeDataString(query)}", UriKind.Relative));
        using var answer = await http.SendAsync(request);
        answer.EnsureSuccessStatusCode();
        using var document = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        return document.RootElement.Clone();
    }
}
