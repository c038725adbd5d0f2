using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;

namespace Chamber.Club.Pages;

/// <summary>The web server of one home's site: it has no socket, and is handed requests that somebody else has received.</summary>
internal sealed class SiteServer : IServer
{
    private Func<IFeatureCollection, Task>? serve;

    public IFeatureCollection Features { get; } = new FeatureCollection();

    public Task StartAsync<TContext>(IHttpApplication<TContext> application, CancellationToken cancellationToken)
        where TContext : notnull
    {
        serve = async features =>
        {
            var context = application.CreateContext(features);
            Exception? failed = null;

            // As a server with a socket does it: an answer without a body starts only now, and what waits for that still needs the request.
            features.GetRequiredFeature<IHttpResponseFeature>().OnCompleted(
                _ =>
                {
                    application.DisposeContext(context, failed);
                    return Task.CompletedTask;
                }, this);
            try
            {
                await application.ProcessRequestAsync(context);
            }
            catch (Exception problem)
            {
                failed = problem;
                throw;
            }
        };
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public void Dispose()
    {
        // Nothing was opened.
    }

    /// <summary>Answers a request of somebody else's server.</summary>
    /// <param name="outer">The request; what comes before its path here is set aside until it is answered.</param>
    /// <param name="root">The path under which the site stands, without the slash at its end.</param>
    /// <param name="visitor">Who asks, as whoever has received it knows them.</param>
    public async Task ServeAsync(HttpContext outer, PathString root, SiteVisitor visitor)
    {
        var features = Connection(outer.Features);
        features.Set(visitor);
        var (above, path) = (outer.Request.PathBase, outer.Request.Path);
        if (!path.StartsWithSegments(root, out var rest))
        {
            throw new InvalidOperationException($"{path} does not lie under {root}.");
        }

        (outer.Request.PathBase, outer.Request.Path) = (above + root, rest);
        try
        {
            await serve!(features);
        }
        finally
        {
            (outer.Request.PathBase, outer.Request.Path) = (above, path);
        }
    }

    // What belongs to the connection and the message, and nothing of what the one who received it has made of them.
    private static FeatureCollection Connection(IFeatureCollection received)
    {
        var features = new FeatureCollection();
        Hand<IHttpRequestFeature>();
        Hand<IHttpRequestIdentifierFeature>();
        Hand<IHttpRequestBodyDetectionFeature>();
        Hand<IHttpRequestLifetimeFeature>();
        Hand<IHttpRequestTrailersFeature>();
        Hand<IHttpResponseFeature>();
        Hand<IHttpResponseBodyFeature>();
        Hand<IHttpResponseTrailersFeature>();
        Hand<IHttpConnectionFeature>();
        Hand<IHttpUpgradeFeature>();
        Hand<IHttpExtendedConnectFeature>();
        Hand<IHttpResetFeature>();
        Hand<IHttpBodyControlFeature>();
        Hand<IHttpMaxRequestBodySizeFeature>();
        Hand<ITlsConnectionFeature>();
        return features;

        void Hand<T>()
            where T : class
        {
            if (received.Get<T>() is { } feature)
            {
                features.Set(feature);
            }
        }
    }
}
