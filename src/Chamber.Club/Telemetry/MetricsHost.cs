using System.Net;
using Chamber.Service.Telemetry;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using OpenTelemetry.Metrics;
using System.Diagnostics.Metrics;

namespace Chamber.Club.Telemetry;

/// <summary>The page that a scraper reads, at an address of its own: it asks for no password and holds nothing of any home.</summary>
internal sealed class MetricsHost : IAsyncDisposable
{
    public const string Path = TelemetryModule.MetricsPath;

    private readonly WebApplication app;
    private readonly Meter process = new(ClubSignals.Name);

    private MetricsHost(WebApplication app) => this.app = app;

    /// <summary>Where it is.</summary>
    public string Address => app.Urls.First() + Path;

    /// <param name="at">Address and port; port 0 for any that is free; null for none.</param>
    /// <param name="cancel">Ends the start.</param>
    /// <returns>Null for none.</returns>
    /// <exception cref="IOException">The port is taken.</exception>
    public static async Task<MetricsHost?> StartAsync(IPEndPoint? at, CancellationToken cancel)
    {
        if (at is null)
        {
            return null;
        }

        var builder = WebApplication.CreateSlimBuilder();
        builder.Configuration.Sources.Clear();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Listen(at);
        });
        builder.Services.AddOpenTelemetry().WithMetrics(metrics => metrics.AddMeter(ClubSignals.Name).AddPrometheusExporter());
        var app = builder.Build();
        app.MapPrometheusScrapingEndpoint(Path);
        var host = new MetricsHost(app);
        ProcessGauges.Add(host.process);
        ClubSignals.NoteDatabase(isAway: false);
        await app.StartAsync(cancel);
        return host;
    }

    public async ValueTask DisposeAsync()
    {
        await app.StopAsync(CancellationToken.None);
        await app.DisposeAsync();
        process.Dispose();
    }
}
