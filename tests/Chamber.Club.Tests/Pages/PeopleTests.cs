using System.Net;
using Chamber.Club.People;

namespace Chamber.Club.Tests.Pages;

/// <summary>People come in by links, sign in once, and see the homes to which they belong and no other.</summary>
public sealed class PeopleTests(ClubSite site) : IClassFixture<ClubSite>
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_link_lets_one_person_in_and_no_second()
    {
        var link = await site.Link(site.Mill, Role.Member);
        using var first = new Visitor(site.Address);
        using var second = new Visitor(site.Address);

        Assert.Equal("/homes/mill-lane-4/", (await first.ComeIn(link, "Ines")).To);
        Assert.Equal(HttpStatusCode.OK, (await first.Get("/homes/mill-lane-4/")).Status);

        var late = await second.ComeIn(link, "Somebody else");
        Assert.Null(late.To);
        Assert.Contains("no longer works", late.Text, StringComparison.Ordinal);
        Assert.Contains("no longer works", (await second.Get($"/invitation/{link}")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await second.Get("/invitation/made-up")).Status);
    }

    [Fact]
    public async Task A_link_that_is_too_old_or_was_taken_back_lets_nobody_in()
    {
        var old = await new Invitations(site.Club, new FifteenDaysAgo())
            .InviteAsync(site.Mill, Role.Owner, "somebody", Stop);
        var back = await site.Link(site.Mill, Role.Owner);
        await site.Invitations.TakeBackAsync(site.Mill, Secret.Hash(back), Stop);
        using var visitor = new Visitor(site.Address);

        Assert.Null((await visitor.ComeIn(old, "Otto")).To);
        Assert.Null((await visitor.ComeIn(back, "Otto")).To);
    }

    [Fact]
    public async Task Another_home_is_not_there_for_who_does_not_belong_to_it()
    {
        using var mine = await site.Person("Ana", site.Mill, Role.Owner);
        using var nobody = new Visitor(site.Address);

        Assert.Contains("mill-lane-4", (await mine.Get("/")).Text, StringComparison.Ordinal);
        Assert.DoesNotContain("weir-house", (await mine.Get("/")).Text, StringComparison.Ordinal);
        foreach (var path in (string[])["/homes/weir-house/", "/homes/weir-house/spots", "/homes/weir-house/api/spots",
            "/homes/weir-house/page.css", "/homes/weir-house/_blazor/negotiate", "/homes/no-such-home/", "/people/weir-house"])
        {
            Assert.Equal(HttpStatusCode.NotFound, (await mine.Get(path)).Status);
        }

        Assert.Equal(HttpStatusCode.NotFound, (await mine.Call(HttpMethod.Put, "/homes/weir-house/api/spots/shelf", new { })).Status);
        Assert.Equal(HttpStatusCode.Found, (await nobody.Get("/homes/mill-lane-4/")).Status);
        Assert.Equal(HttpStatusCode.Unauthorized, (await nobody.Get("/homes/mill-lane-4/api/spots")).Status);
    }

    [Fact]
    public async Task Somebody_of_two_homes_signs_in_once()
    {
        using var person = await site.Person("Bela", site.Mill, Role.Member);
        var link = await site.Link(site.Weir, Role.Guest);

        Assert.Equal("/homes/weir-house/", (await person.Send($"/invitation/{link}", $"/invitation/{link}", ("name", ""))).To);

        Assert.Equal(HttpStatusCode.OK, (await person.Get("/homes/mill-lane-4/")).Status);
        Assert.Equal(HttpStatusCode.OK, (await person.Get("/homes/weir-house/")).Status);
    }

    [Fact]
    public async Task Who_is_removed_is_out_at_the_next_request()
    {
        using var owner = await site.Person("Olga", site.Weir, Role.Owner);
        using var member = await site.Person("Max", site.Weir, Role.Member);
        Assert.Equal(HttpStatusCode.OK, (await member.Get("/homes/weir-house/api/spots")).Status);
        var max = (await new Members(site.Club).OfAsync(site.Weir, Stop)).Single(one => one.Name == "Max");

        Assert.Equal(HttpStatusCode.NotFound,
            (await member.Send("/", "/people/weir-house/remove", ("person", $"{max.Person}"))).Status);
        await owner.Send("/people/weir-house", "/people/weir-house/remove", ("person", $"{max.Person}"));

        Assert.Equal(HttpStatusCode.NotFound, (await member.Get("/homes/weir-house/api/spots")).Status);
    }

    [Fact]
    public async Task Signing_out_ends_every_copy_of_the_cookie()
    {
        using var person = await site.Person("Carla", site.Mill, Role.Member);
        using var copy = new Visitor(site.Address);
        copy.Cookies.Add(person.Cookies.GetAllCookies());
        Assert.Equal(HttpStatusCode.OK, (await copy.Get("/homes/mill-lane-4/api/spots")).Status);

        await person.Send("/", "/sign-out", ("leave", "yes"));

        Assert.Equal(HttpStatusCode.Unauthorized, (await copy.Get("/homes/mill-lane-4/api/spots")).Status);
    }

    [Fact]
    public async Task A_new_password_ends_the_sign_ins_under_the_old_one()
    {
        using var person = await site.Person("Dora", site.Mill, Role.Member);
        using var other = new Visitor(site.Address);
        Assert.Equal("/", (await other.SignIn("dora")).To);

        var said = (await person.Send("/", "/password", ("password", "four other short words"))).Text;

        Assert.Contains("The password is changed", said, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await person.Get("/")).Status);
        Assert.Equal(HttpStatusCode.Found, (await other.Get("/")).Status);
        Assert.Null((await other.SignIn("Dora")).To);
    }

    [Fact]
    public async Task A_form_without_its_token_does_nothing()
    {
        using var owner = await site.Person("Fritz", site.Mill, Role.Owner);

        var answer = await owner.Send("/health/live", "/people/mill-lane-4/invite", ("whom", "a stranger"), ("role", "owner"));

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
    }

    [Fact]
    public async Task The_only_owner_cannot_leave_a_home_without_one()
    {
        var home = await site.Club.AddHomeAsync("lone-lodge", Stop);
        using var owner = await site.Person("Gero", home, Role.Owner);
        var gero = (await new Members(site.Club).OfAsync(home, Stop)).Single();

        var answer = await owner.Send("/people/lone-lodge", "/people/lone-lodge/remove", ("person", $"{gero.Person}"));

        Assert.Contains("They are the only owner", answer.Text, StringComparison.Ordinal);
    }

    private sealed class FifteenDaysAgo : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => base.GetUtcNow() - TimeSpan.FromDays(15);
    }
}
