using System.Net;
using Chamber.Service.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Logging;

namespace Chamber.Service.Tests.Web;

public class WebModuleTests
{
    [Fact]
    public async Task Whoever_calls_while_the_service_stops_is_turned_away()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        await using var app = builder.Build();
        app.TurnAwayWhenStopping();
        app.MapGet("/", () => "here");
        await app.StartAsync(TestContext.Current.CancellationToken);
        using var http = new HttpClient { BaseAddress = new(app.Urls.First()) };
        Assert.Equal("here", await http.GetStringAsync("/", TestContext.Current.CancellationToken));

        // It was asked to stop, and its connections are still open.
        app.Lifetime.StopApplication();
        using var answer = await http.GetAsync("/", TestContext.Current.CancellationToken);

        Assert.Equal((HttpStatusCode.ServiceUnavailable, true), (answer.StatusCode, answer.Headers.ConnectionClose));
    }
}
