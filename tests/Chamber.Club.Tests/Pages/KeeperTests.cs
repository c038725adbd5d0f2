using System.Net;
using System.Text.RegularExpressions;
using Chamber.Club.People;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Club.Tests.Pages;

/// <summary>Whoever looks after the club hands homes over and sees load and health, and no home from inside.</summary>
public sealed partial class KeeperTests(ClubSite site) : IClassFixture<ClubSite>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_keeper_sees_when_a_home_was_heard_and_never_what()
    {
        using var keeper = await Keeper("Kim");
        var now = SystemClock.Instance.GetCurrentInstant();
        var readings = Enumerable.Range(0, 20).Select(i => new Reading(new("boiler-top"), now - Duration.FromSeconds(20 * i), now,
            Temperature.FromCelsius(31.7))).ToList();
        await site.Club.Home(site.Weir).AppendAsync(readings, [], [], Stop);

        var page = await keeper.Get("/keeper");

        Assert.Equal(HttpStatusCode.OK, page.Status);
        var row = Row().Matches(page.Text).Single(match => match.Groups["home"].Value == "weir-house");
        Assert.Equal("2.0", row.Groups["minute"].Value);
        Assert.Matches(@"^(just now|\d+ (s|min) ago)$", row.Groups["heard"].Value);
        Assert.Contains("nobody watches", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("boiler-top", page.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("31.7", page.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await keeper.Get("/homes/weir-house/")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await keeper.Get("/people/weir-house")).Status);
    }

    [Fact]
    public async Task A_home_that_fell_silent_comes_first_and_a_new_one_not()
    {
        using var keeper = await Keeper("Kit");
        await site.Club.AddHomeAsync("a-new-home", Stop);
        var silent = await site.Club.AddHomeAsync("zoo-house", Stop);
        var then = SystemClock.Instance.GetCurrentInstant() - Duration.FromHours(30);
        await site.Club.Home(silent).AppendAsync([new(new("window"), then, then, Temperature.FromCelsius(20))], [], [], Stop);

        var page = await keeper.Get("/keeper");

        var first = Row().Matches(page.Text)[0];
        Assert.Equal(("zoo-house", "30 h ago"), (first.Groups["home"].Value, first.Groups["heard"].Value));
        Assert.Contains("1 home not heard for more than a day", page.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_home_is_handed_over_once()
    {
        using var keeper = await Keeper("Kay");
        var link = Secret(await keeper.Send("/keeper", "/keeper/homes", ("home", "lock-cottage"), ("whom", "Lea")));

        // One that nobody has used is void once there is another.
        var again = Secret(await keeper.Send("/keeper", "/keeper/homes", ("home", "lock-cottage"), ("whom", "Lea")));
        using var lea = new Visitor(site.Address);
        Assert.Null((await lea.ComeIn(link, "Lea")).To);
        Assert.Equal("/homes/lock-cottage/", (await lea.ComeIn(again, "Lea")).To);
        Assert.Contains("Let somebody in", (await lea.Get("/people/lock-cottage")).Text, StringComparison.Ordinal);

        var third = await keeper.Send("/keeper", "/keeper/homes", ("home", "lock-cottage"), ("whom", "Kay"));
        Assert.Contains("has its people already", third.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_page_of_a_keeper_is_not_there_for_others()
    {
        using var owner = await site.Person("Nora", site.Mill, Role.Owner);

        Assert.Equal(HttpStatusCode.NotFound, (await owner.Get("/keeper")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await owner.Send("/", "/keeper/homes", ("home", "x"), ("whom", "y"))).Status);
    }

    private async Task<Visitor> Keeper(string name)
    {
        var keeper = new Visitor(site.Address);
        Assert.Equal("/keeper", (await keeper.ComeIn(await site.Invitations.InviteKeeperAsync(name, Stop), name)).To);
        return keeper;
    }

    private static string Secret((HttpStatusCode Status, string? To, string Text) answer) =>
        Link().Match(answer.Text).Groups["secret"].Value;

    [GeneratedRegex("/invitation/(?<secret>[0-9a-f]{48})")]
    private static partial Regex Link();

    [GeneratedRegex("""<tr><td class="whole">(?<home>[^<]*)</td>\s*<td class="number">\d+</td>\s*<td class="number">(?<minute>[^<]*)</td>\s*<td>(?<heard>[^<]*)</td>""")]
    private static partial Regex Row();
}
