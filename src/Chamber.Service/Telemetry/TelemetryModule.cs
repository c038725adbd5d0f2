using System.Security.Claims;
using System.Security.Cryptography;
using System.Text;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Intake;
using Chamber.Service.Configuration;
using Chamber.Storage;
using Microsoft.AspNetCore.Authorization;
using OpenTelemetry.Exporter;
using OpenTelemetry.Metrics;
using OpenTelemetry.Resources;
using OpenTelemetry.Trace;

namespace Chamber.Service.Telemetry;

/// <summary>Lets the service's measurements out where the settings say so; without settings nothing of this is there.</summary>
internal static class TelemetryModule
{
    public const string MetricsPath = "/metrics";

    private const string Bearer = "Bearer ";

    /// <param name="services">Where it is added.</param>
    /// <param name="settings">The settings in force.</param>
    /// <param name="isReady">Whether everything is watched.</param>
    public static void AddTelemetry(this IServiceCollection services, Settings settings, Func<IServiceProvider, bool> isReady)
    {
        if (settings.Telemetry is not { } telemetry)
        {
            return;
        }

        services.AddSingleton(provider => new Gauges(
            provider.GetRequiredService<IntakeMetrics>(), provider.GetRequiredService<Func<BrokerMetrics?>>()(),
            provider.GetRequiredService<ChamberStore>(), settings, provider.GetRequiredService<TimeProvider>(),
            () => isReady(provider)));
        var built = services.AddOpenTelemetry().ConfigureResource(resource => resource.AddService("chamber"));
        built.WithMetrics(metrics =>
        {
            metrics.AddMeter(Signals.Name);
            if (telemetry.Prometheus)
            {
                metrics.AddPrometheusExporter();
            }

            if (telemetry.Otlp is { } address)
            {
                metrics.AddOtlpExporter((exporter, reader) =>
                {
                    To(exporter, address, "v1/metrics");
                    reader.PeriodicExportingMetricReaderOptions.ExportIntervalMilliseconds = (int)telemetry.Every.TotalMilliseconds;
                });
            }
        });
        if (telemetry.Otlp is { } spans)
        {
            built.WithTracing(traces => traces.AddSource(Signals.Name).AddOtlpExporter(exporter => To(exporter, spans, "v1/traces")));
        }
    }

    /// <summary>The page that a scraper reads: open to whoever may see how the service is, otherwise to whoever has the token.</summary>
    /// <param name="app">The web server.</param>
    /// <param name="settings">The settings in force.</param>
    /// <param name="data">Where a token may lie.</param>
    /// <param name="maySee">Who needs no token.</param>
    public static void UseTelemetry(this WebApplication app, Settings settings, DataDirectory data, Func<ClaimsPrincipal, bool> maySee)
    {
        if (settings.Telemetry is not { } telemetry)
        {
            return;
        }

        // Made now, so that the counters are there from the first question on.
        app.Services.GetRequiredService<Gauges>();
        if (telemetry.Prometheus && settings.Page.On)
        {
            var token = telemetry.ReadToken(data) is { } text ? Hash(text) : null;
            app.MapPrometheusScrapingEndpoint(MetricsPath)
                .RequireAuthorization(policy => policy.RequireAssertion(context => maySee(context.User) || ShowsToken(context, token)));
        }
    }

    private static bool ShowsToken(AuthorizationHandlerContext context, byte[]? token) =>
        token is not null
        && context.Resource is HttpContext { Request.Headers.Authorization: [{ } shown] }
        && shown.StartsWith(Bearer, StringComparison.Ordinal)
        && CryptographicOperations.FixedTimeEquals(Hash(shown[Bearer.Length..].Trim()), token);

    private static byte[] Hash(string text) => SHA256.HashData(Encoding.UTF8.GetBytes(text));

    private static void To(OtlpExporterOptions exporter, string address, string path)
    {
        exporter.Protocol = OtlpExportProtocol.HttpProtobuf;
        exporter.Endpoint = new Uri($"{address.TrimEnd('/')}/{path}");
    }
}
