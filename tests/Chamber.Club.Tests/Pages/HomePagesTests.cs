using System.Net;
using System.Text.Json;
using Chamber.Club.Moving;
using Chamber.Club.People;
using Chamber.Core.Climate;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Club.Tests.Pages;

/// <summary>A home in a club has the pages and the API of a home of its own, under its address.</summary>
public sealed class HomePagesTests(ClubSite site) : IClassFixture<ClubSite>
{
    private const string Home = "/homes/mill-lane-4";

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact]
    public async Task What_is_written_in_a_home_stands_on_its_pages()
    {
        using var owner = await site.Person("Ana", site.Mill, Role.Owner);
        await Furnish(owner);

        var sown = await owner.Call(HttpMethod.Post, $"{Home}/api/batches",
            new { crop = "tomato", seeds = 12, spot = "shelf", name = "T1" });
        Assert.Equal((HttpStatusCode.Created, $"{Home}/api/batches/T1"), (sown.Status, sown.To));
        Assert.Equal(HttpStatusCode.OK, (await owner.Call(HttpMethod.Post, $"{Home}/api/batches/T1/looks", new { up = 3 })).Status);

        using var batch = JsonDocument.Parse((await owner.Get(sown.To!)).Text);
        Assert.Equal(3, batch.RootElement.GetProperty("looks")[0].GetProperty("up").GetInt32());
        var today = await owner.Get($"{Home}/");
        Assert.Contains($"<base href=\"{Home}/\"", today.Text, StringComparison.Ordinal);
        Assert.Contains("24.5 °C", (await owner.Get($"{Home}/spots")).Text, StringComparison.Ordinal);
        Assert.Contains("3 up", (await owner.Get($"{Home}/batches/T1")).Text, StringComparison.Ordinal);
        Assert.Contains("Ana", (await owner.Get($"{Home}/history")).Text, StringComparison.Ordinal);
        Assert.Contains(site.Mill, site.Told);
    }

    [Fact]
    public async Task A_guest_looks_and_changes_nothing()
    {
        using var guest = await site.Person("Gil", site.Mill, Role.Guest);

        Assert.Equal(HttpStatusCode.OK, (await guest.Get($"{Home}/")).Status);
        Assert.Equal(HttpStatusCode.OK, (await guest.Get($"{Home}/api/spots")).Status);

        var refused = await guest.Call(HttpMethod.Put, $"{Home}/api/spots/attic", new { });
        Assert.Equal(HttpStatusCode.Forbidden, refused.Status);
        Assert.Contains("You may look here and change nothing", refused.Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Forbidden, (await guest.Get($"{Home}/set-up/spots")).Status);
        Assert.DoesNotContain("attic", (await guest.Get($"{Home}/api/spots")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_rests_on_a_data_file_is_said_in_a_line()
    {
        using var owner = await site.Person("Rik", site.Mill, Role.Owner);

        foreach (var (page, line) in new[]
        {
            ("set-up/safekeeping", "keeps backups of all homes"), ("set-up/people", "let in on the page My homes"),
            ("set-up/network", "let in on the page My homes"), ("set-up/notices", "under Settings and notices"),
            ("set-up/about", "The club keeps this home"), ("sign-out", "Sign out on the page My homes"),
        })
        {
            Assert.Contains(line, (await owner.Get($"{Home}/{page}")).Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task The_rest_is_as_at_home()
    {
        using var owner = await site.Person("Eva", site.Mill, Role.Owner);
        await Furnish(owner);
        string[] pages =
        [
            "spots", "spots/shelf", "spots/compare", "spots/crops", "spots/place", "batches", "batches/hindsight", "batches/learned",
            "batches/season", "batches/year", "seeds", "seeds/add", "seeds/plan", "seeds/sow", "cautions", "history", "set-up",
            "set-up/probes", "set-up/crops", "set-up/spots", "set-up/read", "set-up/start", "set-up/calibrate?probe=shelf-air",
            "openapi/v1.json", "api/home", "api/today", "api/alerts", "api/refusals", "api/probes", "api/spots/shelf/readings", "api/week",
            "api/export", "_framework/blazor.web.js", "page.css", "worker.js",
        ];

        var wrong = new List<string>();
        foreach (var page in pages)
        {
            if (await owner.Get($"{Home}/{page}") is var answer && (answer.Status != HttpStatusCode.OK
                || answer.Text.Contains("This page cannot be shown", StringComparison.Ordinal)))
            {
                wrong.Add($"{page}: {answer.Status}");
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task Photos_are_kept_and_leave_with_the_home()
    {
        using var owner = await site.Person("Pia", site.Mill, Role.Owner);
        await Furnish(owner);
        await owner.Call(HttpMethod.Post, $"{Home}/api/batches", new { crop = "tomato", seeds = 12, spot = "shelf", name = "P1" });
        var taken = await owner.Post($"{Home}/api/batches/P1/photos", SomePhoto.Jpeg(64, 48, new(200, 40, 40)), "image/jpeg");
        Assert.Equal(HttpStatusCode.Created, taken.Status);
        var again = await owner.Post($"{Home}/api/batches/P1/photos", SomePhoto.Jpeg(64, 48, new(200, 40, 40)), "image/jpeg");
        Assert.Equal(HttpStatusCode.Conflict, again.Status);
        Assert.Equal(HttpStatusCode.OK, (await owner.Get(taken.To!)).Status);
        Assert.Equal(HttpStatusCode.OK, (await owner.Get($"{taken.To}?small=true")).Status);
        using var neighbour = await site.Person("Nils", site.Weir, Role.Owner);
        Assert.Equal(HttpStatusCode.NotFound,
            (await neighbour.Get(taken.To!.Replace("mill-lane-4", "weir-house", StringComparison.Ordinal))).Status);

        using var folder = new TempFolder();
        var moved = await HomeMove.ExportAsync(site.Club, "mill-lane-4", folder.File("taken"), Stop);
        Assert.Equal(2, moved.Parts.Count(part => part.StartsWith("photos/", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task What_is_not_there_is_said_as_at_home()
    {
        using var owner = await site.Person("Udo", site.Mill, Role.Owner);

        Assert.Contains("There is no such page", (await owner.Get($"{Home}/no-such-page")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, (await owner.Get($"{Home}/api/backups")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await owner.Get($"{Home}/api/people")).Status);
    }

    // As a browser asks for a style that it has already.
    [Fact]
    public async Task An_answer_without_a_body_comes_whole()
    {
        using var owner = await site.Person("Ole", site.Mill, Role.Owner);

        Assert.Equal(HttpStatusCode.NotModified, await owner.Again($"{Home}/page.css"));
    }

    private async Task Furnish(Visitor owner)
    {
        Assert.Equal(HttpStatusCode.OK, (await owner.Call(HttpMethod.Put, $"{Home}/api/spots/shelf", new { kind = "shelf" })).Status);
        Assert.Equal(HttpStatusCode.OK,
            (await owner.Call(HttpMethod.Put, $"{Home}/api/probes/shelf-air", new { spot = "shelf" })).Status);
        var now = SystemClock.Instance.GetCurrentInstant();
        await site.Club.Home(site.Mill).AppendAsync(
            [.. Enumerable.Range(0, 100).Select(i => new Reading(new("shelf-air"), now - Duration.FromMinutes(i), now,
                Temperature.FromCelsius(24.5)))], [], [], Stop);
    }
}
