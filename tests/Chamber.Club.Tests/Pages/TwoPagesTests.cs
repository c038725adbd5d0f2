using System.Net;
using Chamber.Club.Pages;
using Chamber.Club.People;
using Chamber.Club.Store;

namespace Chamber.Club.Tests.Pages;

/// <summary>Two processes that serve the pages of one club: who signs in at one is signed in at both, and what is written at one is seen
/// and told at the other.</summary>
public sealed class TwoPagesTests(ClubSite site) : IClassFixture<ClubSite>
{
    private const string Home = "/homes/mill-lane-4";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_sign_in_and_what_is_written_hold_at_both()
    {
        await using var club = ClubDatabase.Open(site.DatabaseAddress);
        await using var second = PageHost.Build(club, new(new(IPAddress.Loopback, 0), null, false, "broker"), _ => { });
        await second.StartAsync(Stop);
        using var here = await site.Person("Ida", site.Mill, Role.Owner);
        using var there = new Visitor(second.Urls.Single(), here.Cookies);
        Assert.DoesNotContain("attic", (await there.Get($"{Home}/api/spots")).Text, StringComparison.Ordinal);

        // By this an open page knows that it is to be read again.
        var records = new ClubHomeRecords(club, site.Mill);
        var before = await records.VersionAsync(Stop);
        Assert.Equal(HttpStatusCode.OK, (await here.Call(HttpMethod.Put, $"{Home}/api/spots/attic", new { kind = "shelf" })).Status);
        Assert.NotEqual(before, await records.VersionAsync(Stop));
        Assert.Contains("attic", (await there.Get($"{Home}/spots")).Text, StringComparison.Ordinal);

        await there.Send("/", "/sign-out");
        Assert.Equal(HttpStatusCode.Unauthorized, (await here.Get($"{Home}/api/spots")).Status);
    }
}
