using System.Net;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Setting up beyond the first spot.</summary>
public sealed class SetUpTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_probe_is_moved_and_a_spot_without_a_past_is_taken_away(int width, ColorScheme theme)
    {
        await using var home =
            await OwnHome.Start(furnish: ["spot add shelf", "spot add sill", "spot add spare", "probe add p1 --spot shelf"]);
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", new(width, theme));

        await tab.Page.GetByLabel("Stands on").SelectOptionAsync("sill");
        await Expect(tab.Page.GetByText("p1 stands on sill now.")).ToBeVisibleAsync();
        Assert.Contains("sill", await home.Do("probes"), StringComparison.Ordinal);

        await tab.GoTo(home.Address + "/set-up/spots");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Remove spare" }).ClickAsync();
        await Expect(tab.Page.GetByText("spare is removed.")).ToBeVisibleAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Remove shelf" }).ClickAsync();
        await Expect(tab.Page.GetByText("rests on that (probe p1 put on shelf)")).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Ones_own_ideal_band_holds_in_Fahrenheit_and_can_be_forgotten(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up", new(width, theme));
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "°F" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "°F" })).ToHaveAttributeAsync("aria-pressed", "true");
        await tab.GoTo(home.Address + "/set-up/crops");
        await Expect(tab.Page.GetByText("Ideal band, in °F")).ToBeVisibleAsync();
        await tab.Live();

        await tab.Page.GetByLabel("Which crop").SelectOptionAsync("celery");
        await tab.Unfold("Sources disagree");
        await Expect(tab.Page.GetByText("Sources disagree: days table and percent table")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByText("7 CFR 201").First).ToBeVisibleAsync();
        await tab.Page.GetByLabel("Which crop").SelectOptionAsync("zinnia");
        await Expect(tab.Page.GetByText("Sources disagree:")).ToHaveCountAsync(0);

        // The band of the crop comes from the server, and would be written over what is typed before it.
        var zinnia = await tab.Page.GetByLabel("To", new() { Exact = true }).InputValueAsync();
        await tab.Page.GetByLabel("Which crop").SelectOptionAsync("spinach");
        await Expect(tab.Page.GetByLabel("To", new() { Exact = true })).Not.ToHaveValueAsync(zinnia);
        await tab.Page.GetByLabel("From", new() { Exact = true }).FillAsync("62");
        await tab.Page.GetByLabel("To", new() { Exact = true }).FillAsync("54");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(tab.Page.GetByText("the first must be the cooler one")).ToBeVisibleAsync();
        await tab.Page.GetByLabel("From", new() { Exact = true }).FillAsync("54");
        await tab.Page.GetByLabel("To", new() { Exact = true }).FillAsync("62");
        await tab.Page.GetByLabel("Source").FillAsync("three springs");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();

        await Expect(tab.Page.GetByText("Ideal band 54 to 62 °F. three springs")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-own-band");
        Assert.Contains("54 to 62 °F", await home.Do("crops", "spinach", "--units", "F"), StringComparison.Ordinal);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Remove yours: spinach" }).ClickAsync();
        await Expect(tab.Page.GetByText("Your numbers for spinach are gone.")).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_backup_brings_back_what_was_there(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: "spot add before");
        await using var tab = await chromium.Open(home.Address + "/set-up/safekeeping", new(width, theme));

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Back up now" }).ClickAsync();
        await Expect(tab.Page.GetByText("read back and complete")).ToBeVisibleAsync();
        var saved = await tab.Page.RunAndWaitForDownloadAsync(
            () => tab.Page.GetByRole(AriaRole.Link, new() { Name = "Download" }).ClickAsync());
        var head = (await File.ReadAllBytesAsync(await saved.PathAsync(), TestContext.Current.CancellationToken))[..15];
        Assert.Equal("SQLite format 3", System.Text.Encoding.ASCII.GetString(head));

        await home.Do("spot", "add", "after");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Restore chamber-" }).ClickAsync();
        await Expect(tab.Page.GetByText("A backup waits.")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-restore");
        await home.StopService();
        await home.StartService();

        Assert.DoesNotContain("after", await home.Do("spots"), StringComparison.Ordinal);
        Assert.Contains("before", await home.Do("spots"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_test_notice_says_whether_it_was_taken_and_if_not_why()
    {
        using var peer = new HttpListener();
        var port = FreePort.Next();
        peer.Prefixes.Add($"http://127.0.0.1:{port}/");
        peer.Start();
        await using var home = await OwnHome.StartWith($$""", "notices": { "webhook": { "url": "http://127.0.0.1:{{port}}/chamber" } }""");
        await using var tab = await chromium.Open(home.Address + "/set-up/notices", Display.Phone);

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Send a test now" }).ClickAsync();
        var call = await Wait.For("a call of the webhook", peer.GetContextAsync());
        call.Response.StatusCode = 204;
        call.Response.Close();
        await Expect(tab.Page.Locator("main .card").First).ToContainTextAsync("webhook: the test was accepted.");

        peer.Stop();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Send a test now" }).ClickAsync();
        await Expect(tab.Page.Locator("main .card").First).Not.ToContainTextAsync("the test was accepted.");
        await Expect(tab.Page.Locator("main .card").First).ToContainTextAsync("webhook");
    }

    [Fact]
    public async Task What_was_refused_is_told_by_reason()
    {
        await using var home = await OwnHome.Start();
        await home.Publish("attic", """{"temperature": 85.0}""");
        await home.Publish("attic", "rubbish");
        await using var tab = await chromium.Open(home.Address + "/set-up/about", Display.Phone);
        await tab.Unfold("Refused");

        await Expect(tab.Page.GetByRole(AriaRole.Row).Filter(new() { HasText = "malformed" })).ToContainTextAsync("attic");
        await Expect(tab.Page.GetByText("Broker")).ToBeVisibleAsync();
        Assert.Empty(await tab.Barriers());
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task People_guests_and_programs_are_let_in_and_shut_out(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/people", new(width, theme));
        var page = tab.Page;

        await tab.Unfold("People");
        await page.GetByLabel("Name").FillAsync("Ada");
        await page.GetByLabel("Password").FillAsync("too short");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add, or change" }).ClickAsync();
        await Expect(page.GetByText("at least 10 characters; four short words do well")).ToBeVisibleAsync();
        await page.GetByLabel("Password").FillAsync("four short words here");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add, or change" }).ClickAsync();
        await Expect(page.GetByText("Ada may sign in.")).ToBeVisibleAsync();

        await tab.Unfold("Programs");
        await page.GetByLabel("Which program?").FillAsync("automation");
        await page.GetByLabel("write").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Make a token" }).ClickAsync();
        var token = await page.GetByLabel("Give this to the program").InputValueAsync();
        await tab.FitsEveryScreen("flow-people");

        // The program calls as if from elsewhere: what came through a proxy is never taken as local.
        using var http = new HttpClient { BaseAddress = new(home.Address) };
        http.DefaultRequestHeaders.Add("X-Forwarded-For", "192.0.2.7");
        http.DefaultRequestHeaders.Authorization = new("Bearer", token);
        using var spot = new StringContent("{}", System.Text.Encoding.UTF8, "application/json");
        Assert.Equal(HttpStatusCode.OK, (await http.PutAsync("/api/spots/shelf", spot, TestContext.Current.CancellationToken)).StatusCode);

        await page.GetByRole(AriaRole.Button, new() { Name = "Revoke the token of automation" }).ClickAsync();
        await Expect(page.GetByText("The token of automation is revoked.")).ToBeVisibleAsync();
        Assert.Equal(HttpStatusCode.Unauthorized, (await http.GetAsync("/api/spots", TestContext.Current.CancellationToken)).StatusCode);
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove Ada" }).ClickAsync();
        await Expect(page.GetByText("Ada may no longer sign in.")).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }
}
