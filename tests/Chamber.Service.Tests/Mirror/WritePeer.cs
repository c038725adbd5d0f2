using System.IO.Compression;
using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Mirror;

/// <summary>What the peer answers one request.</summary>
internal sealed record Scripted(HttpStatusCode Status, string? RetryAfter = null, string Body = "");

/// <summary>A real HTTP server that answers writes by a script, keeps what it took, and says so after the form of the InfluxDB v2 write API
/// (OSS v2 API reference, "Write data").</summary>
internal sealed class WritePeer : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly Func<IReadOnlyList<string>, Scripted> script;

    private WritePeer(WebApplication app, Func<IReadOnlyList<string>, Scripted> script) => (this.app, this.script) = (app, script);

    /// <summary>Lines that were answered with 204, in order.</summary>
    public List<string> Taken { get; } = [];

    /// <summary>Every request: its lines, where it went, who wrote, how its body was packed.</summary>
    public List<(IReadOnlyList<string> Lines, string Address, string Authorization, string Encoding)> Requests { get; } = [];

    public string Url => app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();

    public static async Task<WritePeer> Start(Func<IReadOnlyList<string>, Scripted> script)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var peer = new WritePeer(app, script);
        app.Run(peer.Answer);
        await app.StartAsync();
        return peer;
    }

    public async ValueTask DisposeAsync() => await app.DisposeAsync();

    private async Task Answer(HttpContext context)
    {
        var encoding = context.Request.Headers.ContentEncoding.ToString();
        using var reader = new StreamReader(
            encoding == "gzip" ? new GZipStream(context.Request.Body, CompressionMode.Decompress) : context.Request.Body);
        var lines = (await reader.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Requests.Add((lines, context.Request.Path + context.Request.QueryString, context.Request.Headers.Authorization.ToString(),
            encoding));
        var answer = script(lines);
        context.Response.StatusCode = (int)answer.Status;
        if (answer.RetryAfter is { } after)
        {
            context.Response.Headers.RetryAfter = after;
        }

        if (answer.Status == HttpStatusCode.NoContent)
        {
            Taken.AddRange(lines);
            return;
        }

        context.Response.ContentType = "application/json";
        await context.Response.WriteAsync(answer.Body.Length > 0 ? answer.Body
            : $$"""{"code":"invalid","message":"said by the test ({{(int)answer.Status}})"}""");
    }
}
