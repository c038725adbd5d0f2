using System.Net;
using Chamber.Club.Pages;
using Chamber.Club.People;
using Chamber.Club.Store;
using Chamber.Core.Climate;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Pages;

/// <summary>The database of a club goes away under its pages, and comes back. Readings are invented.</summary>
public sealed class DatabaseAwayTests
{
    private const string Home = "/homes/mill-lane-4";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Pages_say_that_the_database_is_away_show_what_they_hold_and_catch_up()
    {
        await using var server = await PostgreSql.Start();
        await using var club = ClubDatabase.Open(await server.MakeDatabase());
        var home = await club.AddHomeAsync("mill-lane-4", Stop);
        await using var pages = PageHost.Build(club, new(new(IPAddress.Loopback, 0), null, false, "broker"), _ => { });
        await pages.StartAsync(Stop);
        using var owner = new Visitor(pages.Urls.Single());
        Assert.NotNull((await owner.ComeIn(await new Invitations(club, TimeProvider.System).InviteAsync(home, Role.Owner, "Ana", Stop),
            "Ana")).To);
        Assert.Equal(HttpStatusCode.OK, (await owner.Call(HttpMethod.Put, $"{Home}/api/spots/shelf", new { kind = "shelf" })).Status);
        Assert.Equal(HttpStatusCode.OK, (await owner.Call(HttpMethod.Put, $"{Home}/api/probes/soil", new { spot = "shelf" })).Status);
        await Measure(24.5);
        Assert.Contains("24.5", (await owner.Get($"{Home}/")).Text, StringComparison.Ordinal);

        await server.Stop();
        var held = await owner.Get($"{Home}/");
        Assert.Contains("24.5", held.Text, StringComparison.Ordinal);
        Assert.Contains("database does not answer", held.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, (await owner.Get($"{Home}/history")).Status);
        Assert.NotEqual(HttpStatusCode.OK, (await owner.Call(HttpMethod.Put, $"{Home}/api/spots/attic", new { kind = "shelf" })).Status);

        await server.StartAgain();
        await Measure(26.5);
        var again = await owner.Get($"{Home}/");
        Assert.Contains("26.5", again.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("database does not answer", again.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("attic", (await owner.Get($"{Home}/api/spots")).Text, StringComparison.Ordinal);

        Task<AppendResult> Measure(double celsius)
        {
            var now = SystemClock.Instance.GetCurrentInstant();
            return club.Home(home).AppendAsync([new(new("soil"), now, now, Temperature.FromCelsius(celsius))], [], [], Stop).AsTask();
        }
    }
}
