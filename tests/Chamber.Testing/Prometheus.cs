using System.Globalization;
using System.Text.Json;

namespace Chamber.Testing;

/// <summary>The foreign scraper, from Debian's package: fetches one page of metrics again and again, and answers queries over what it
/// got.</summary>
public sealed class Prometheus : IAsyncDisposable
{
    private readonly TempFolder folder = new();
    private readonly HttpClient http = new() { Timeout = RunningProgram.Patience };
    private readonly RunningProgram server;
    private readonly int port = FreePort.Next();

    private Prometheus(string target, string token)
    {
        var configuration = folder.Write("prometheus.yml", $"""
            global: {"{"} scrape_interval: 200ms, scrape_timeout: 200ms {"}"}
            scrape_configs:
              - job_name: chamber
                authorization: {"{"} credentials: {token} {"}"}
                static_configs: [ {"{"} targets: ["{target}"] {"}"} ]
            """);
        server = RunningProgram.Start("prometheus",
            [$"--config.file={configuration}", $"--storage.tsdb.path={folder.File("data")}", $"--web.listen-address=127.0.0.1:{port}"]);
    }

    public static async Task<Prometheus> Start(string target, string token)
    {
        var prometheus = new Prometheus(target, token);
        await prometheus.server.Line("Server is ready to receive web requests");
        return prometheus;
    }

    /// <summary>The value of a query, once it has one that is wanted.</summary>
    /// <exception cref="InvalidOperationException">It never had; the message has the last answer.</exception>
    public async Task<double> Value(string query, Func<double, bool> wanted)
    {
        var answer = "";
        try
        {
            var found = await Wait.Until($"a value of {query} that is wanted", async () =>
            {
                answer = await http.GetStringAsync(new Uri($"http://127.0.0.1:{port}/api/v1/query?query={Uri.EscapeDataString(query)}"));
                using var document = JsonDocument.Parse(answer);
                var rows = document.RootElement.GetProperty("data").GetProperty("result");
                var text = rows.GetArrayLength() == 1 ? rows[0].GetProperty("value")[1].GetString() : null;
                return text is not null && wanted(double.Parse(text, CultureInfo.InvariantCulture)) ? text : null;
            });
            return double.Parse(found, CultureInfo.InvariantCulture);
        }
        catch (TimeoutException problem)
        {
            throw new InvalidOperationException($"{problem.Message} The last answer: "
                + $"{answer}\n{await http.GetStringAsync(new Uri($"http://127.0.0.1:{port}/api/v1/targets"))}", problem);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await server.DisposeAsync();
        http.Dispose();
        folder.Dispose();
    }
}
