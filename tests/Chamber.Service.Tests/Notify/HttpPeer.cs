using System.Threading.Channels;
using Chamber.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Notify;

/// <summary>A real HTTP server on a free port of the loopback that answers as told and keeps what it was sent.</summary>
internal sealed class HttpPeer : IAsyncDisposable
{
    private readonly WebApplication app;

    private HttpPeer(WebApplication app) => this.app = app;

    private readonly Channel<Request> arrived = Channel.CreateUnbounded<Request>();

    public List<Request> Requests { get; } = [];

    /// <summary>The next request that was not waited for yet.</summary>
    public async Task<Request> Next() =>
        await Wait.For("a request", arrived.Reader.ReadAsync(TestContext.Current.CancellationToken).AsTask());

    public int StatusCode { get; set; } = 200;

    public string? RetryAfter { get; set; }

    /// <summary>Whether it goes on answering for as long as it is listened to.</summary>
    public bool IsEndless { get; set; }

    /// <summary>Where it sends on to.</summary>
    public string? Location { get; set; }

    public string Url => app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();

    public static async Task<HttpPeer> StartAsync()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        var app = builder.Build();
        var peer = new HttpPeer(app);
        app.Run(peer.AnswerAsync);
        await app.StartAsync();
        return peer;
    }

    public async ValueTask DisposeAsync() => await app.DisposeAsync();

    private async Task AnswerAsync(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body);
        var request = new Request(context.Request.Headers.ToDictionary(header => header.Key, header => header.Value.ToString(),
            StringComparer.OrdinalIgnoreCase), body.ToArray());
        Requests.Add(request);
        await arrived.Writer.WriteAsync(request);
        if (RetryAfter is not null)
        {
            context.Response.Headers.RetryAfter = RetryAfter;
        }

        if (Location is not null)
        {
            context.Response.Headers.Location = Location;
        }

        context.Response.StatusCode = StatusCode;
        var block = new byte[IsEndless ? 1_000_000 : 0];
        while (IsEndless && !context.RequestAborted.IsCancellationRequested)
        {
            await context.Response.Body.WriteAsync(block, context.RequestAborted);
        }
    }

    internal sealed record Request(IReadOnlyDictionary<string, string> Headers, byte[] Body);
}
