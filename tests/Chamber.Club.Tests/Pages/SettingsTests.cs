using System.Net;
using Chamber.Club.People;
using Chamber.Club.Store;

namespace Chamber.Club.Tests.Pages;

/// <summary>What is set for a home of the club, and the programs that are let in to it.</summary>
public sealed class SettingsTests(ClubSite site) : IClassFixture<ClubSite>
{
    private const string Page = "/settings/mill-lane-4";
    private const string Home = "/homes/mill-lane-4";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task An_owner_sets_zone_quiet_hours_and_mappings_and_the_pages_follow()
    {
        using var owner = await site.Person("Ana", site.Mill, Role.Owner);
        Assert.DoesNotContain("America/Chicago", (await owner.Get($"{Home}/api/home")).Text, StringComparison.Ordinal);
        var set = await Set(owner, "America/Chicago", """{ "mappings": [ { "topic": "porch/{probe}", "form": "number", "quantity": "temperature", "unit": "Cel" } ] }""");
        Assert.Contains("It is set.", set.Text, StringComparison.Ordinal);
        Assert.Contains("America/Chicago", (await owner.Get(Page)).Text, StringComparison.Ordinal);
        Assert.Contains("porch/", (await owner.Get(Page)).Text, StringComparison.Ordinal);

        var kept = SettingRows.Of(await site.Club.AsAsync(site.Mill, session => SettingRows.ReadAsync(session, site.Mill), Stop));
        Assert.Equal(("America/Chicago", 21, 7), (kept.Zone.Id, kept.QuietHours!.From.Hour, kept.Notices.Digest!.At.Hour));
        Assert.Contains("\"zone\":\"America/Chicago\"", (await owner.Get($"{Home}/api/home")).Text, StringComparison.Ordinal);
        Assert.Contains(site.Mill, site.Told);
    }

    [Fact]
    public async Task What_cannot_be_used_changes_nothing_and_is_shown_again()
    {
        using var owner = await site.Person("Eva", site.Mill, Role.Owner);
        foreach (var (zone, rest, why) in new[]
        {
            ("Atlantis", "{}", "is not a time zone"), ("UTC", "{ mappings", "not JSON"), ("UTC", """{ "page": { "on": true } }""", "page"),
            ("UTC", """{ "mappings": [ { "topic": "porch" } ] }""", "mappings[0]"), ("UTC", "[]", "object in curly brackets"),
        })
        {
            var refused = await Set(owner, zone, rest);
            Assert.Contains(why, refused.Text, StringComparison.Ordinal);
            Assert.Contains(zone, refused.Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task To_members_and_strangers_the_page_is_not_there()
    {
        using var member = await site.Person("Ben", site.Mill, Role.Member);
        using var other = await site.Person("Udo", site.Weir, Role.Owner);
        Assert.Equal(HttpStatusCode.NotFound, (await member.Get(Page)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await other.Get(Page)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await Set(member, "UTC", "{}")).Status);
    }

    [Fact]
    public async Task An_owner_says_who_gets_notices()
    {
        using var owner = await site.Person("Rik", site.Mill, Role.Owner);
        Assert.Contains("Notices go to ana@example.org", (await owner.Send(Page, $"{Page}/addresses", ("mail", "ana@example.org"))).Text,
            StringComparison.Ordinal);
        Assert.Contains("is no e-mail address", (await owner.Send(Page, $"{Page}/addresses", ("mail", "somewhere"))).Text,
            StringComparison.Ordinal);
        Assert.Contains("gets no more notices", (await owner.Send(Page, $"{Page}/addresses/remove", ("mail", "ana@example.org"))).Text,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_program_uses_its_home_by_a_token_until_it_is_shut_out()
    {
        using var owner = await site.Person("Ole", site.Mill, Role.Owner);
        var token = Token(await owner.Send("/people/mill-lane-4", "/people/mill-lane-4/programs", ("name", "window opener")));
        using var reads = new Visitor(site.Address) { Bearer = token };
        Assert.Equal(HttpStatusCode.OK, (await reads.Get($"{Home}/api/spots")).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await reads.Call(HttpMethod.Put, $"{Home}/api/spots/attic", new { })).Status);
        Assert.Equal(HttpStatusCode.Unauthorized, (await reads.Get("/homes/weir-house/api/spots")).Status);
        Assert.Equal(HttpStatusCode.Found, (await reads.Get($"{Home}/")).Status);

        reads.Bearer = Token(await owner.Send("/people/mill-lane-4", "/people/mill-lane-4/programs", ("name", "window opener"),
            ("writes", "yes")));
        Assert.Equal(HttpStatusCode.OK, (await reads.Call(HttpMethod.Put, $"{Home}/api/spots/attic", new { kind = "shelf" })).Status);
        Assert.Contains("window opener", (await owner.Get($"{Home}/history")).Text, StringComparison.Ordinal);
        await owner.Send("/people/mill-lane-4", "/people/mill-lane-4/programs/remove", ("name", "window opener"));
        Assert.Equal(HttpStatusCode.Unauthorized, (await reads.Get($"{Home}/api/spots")).Status);
    }

    private static string Token((HttpStatusCode Status, string? To, string Text) shown) =>
        System.Text.RegularExpressions.Regex.Match(shown.Text, "chamber_[0-9a-f]+").Value;

    private static Task<(HttpStatusCode Status, string? To, string Text)> Set(Visitor who, string zone, string rest) => who.Send(
        Page, Page, ("zone", zone), ("units", "F"), ("quiet-from", "21:30"), ("quiet-to", "06:00"), ("digest", "07:15"), ("rest", rest));
}
