using Google.Protobuf;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Telemetry;

/// <summary>
/// A real HTTP server that takes OTLP (OpenTelemetry Protocol 1.x, "OTLP/HTTP", binary protobuf) and reads the names out of it by the field
/// numbers of opentelemetry-proto: ExportMetricsServiceRequest 1/2/2/1, ExportTraceServiceRequest 1/2/2/5.
/// </summary>
internal sealed class Collector : IAsyncDisposable
{
    private static readonly int[] MetricName = [1, 2, 2, 1];
    private static readonly int[] SpanName = [1, 2, 2, 5];

    private readonly WebApplication app;
    private readonly Lock gate = new();
    private readonly HashSet<string> names = new(StringComparer.Ordinal);

    private Collector(WebApplication app) => this.app = app;

    public string Url => app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();

    /// <summary>Names of metrics and, with "span " before them, of spans.</summary>
    public IReadOnlySet<string> Names
    {
        get
        {
            lock (gate)
            {
                return names.ToHashSet();
            }
        }
    }

    public static async Task<Collector> Start()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var collector = new Collector(app);
        app.MapPost("/v1/metrics", (HttpContext context) => collector.Take(context, MetricName, ""));
        app.MapPost("/v1/traces", (HttpContext context) => collector.Take(context, SpanName, "span "));
        await app.StartAsync();
        return collector;
    }

    public async ValueTask DisposeAsync() => await app.DisposeAsync();

    private async Task Take(HttpContext context, int[] path, string prefix)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body);
        lock (gate)
        {
            Read(ByteString.CopyFrom(body.ToArray()), path, prefix);
        }

        context.Response.ContentType = "application/x-protobuf";
    }

    private void Read(ByteString message, ReadOnlySpan<int> path, string prefix)
    {
        var input = message.CreateCodedInput();
        for (var tag = input.ReadTag(); tag != 0; tag = input.ReadTag())
        {
            if (WireFormat.GetTagFieldNumber(tag) != path[0] || WireFormat.GetTagWireType(tag) != WireFormat.WireType.LengthDelimited)
            {
                input.SkipLastField();
            }
            else if (path.Length == 1)
            {
                names.Add(prefix + input.ReadString());
            }
            else
            {
                Read(input.ReadBytes(), path[1..], prefix);
            }
        }
    }
}
