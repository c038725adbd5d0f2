using System.Text.Json;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What the browser does while the page is closed or out of reach.</summary>
public sealed class WorkerTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_phone_out_of_reach_shows_the_last_page_and_comes_back_by_itself(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf", "read shelf 23.5C"]);
        await using var tab = await chromium.Open(home.Address + "/spots", new(width, theme));
        await Kept(tab, "/spots");
        await home.StopService();

        await tab.Page.ReloadAsync();
        await Expect(tab.Page.GetByText("Not connected. This is from"))
            .ToContainTextAsync(new System.Text.RegularExpressions.Regex("[0-2][0-9]:[0-5][0-9]"));
        await Expect(tab.Page.GetByText("Not connected. This is from")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToContainTextAsync("23.5 °C");
        await Expect(tab.Page.GetByRole(AriaRole.Checkbox, new() { Name = "Compare shelf" })).ToBeDisabledAsync();
        await tab.FitsEveryScreen("flow-offline");
        await tab.Page.GotoAsync(home.Address + "/seeds");
        await Expect(tab.Page.GetByText("no page of it was kept")).ToBeVisibleAsync();

        await home.StartService();
        await tab.Live();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Seeds" })).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_page_that_was_not_kept_shows_Today_and_no_set_up_page_is_kept()
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.Open(home.Address + "/set-up/people", Display.Phone);
        await tab.GoTo(home.Address);
        await Kept(tab, "/");
        Assert.Equal(["/"], await tab.Page.EvaluateAsync<string[]>(
            "async () => (await (await caches.open('chamber-pages')).keys()).map(one => new URL(one.url).pathname)"));
        await home.StopService();

        await tab.Page.GotoAsync(home.Address + "/set-up/people");
        await Expect(tab.Page.GetByText("What you asked for was not kept; this is Today.")).ToBeVisibleAsync();
        await home.StartService();
        await tab.Live();
    }

    // A worker runs only behind a certificate that the browser trusts; here it trusts every one.
    [Fact]
    public async Task Whoever_signs_out_leaves_no_page_behind()
    {
        await using var chromium = await Chromium.Start("--ignore-certificate-errors");
        await using var home = await OwnHome.Start(OwnAddress.Find(), "spot add shelf");
        var code = (await home.Console.Line("sign up with the code")).Split("sign up with the code ")[1][..8];
        await using var tab = await chromium.New(Display.Phone);
        await tab.Page.GotoAsync(home.Address + "/spots");
        await tab.Page.GetByLabel("Code from the console").FillAsync(code);
        await tab.Page.GetByLabel("Your name").FillAsync("Ada");
        await tab.Page.GetByLabel("Password").FillAsync("four short words here");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Sign up" }).ClickAsync();
        await tab.Live();
        await Kept(tab, "/spots");

        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "Sign out" }).ClickAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in" })).ToBeVisibleAsync();
        await tab.Until("async () => !await caches.has('chamber-pages')");
        await home.StopService();
        await tab.Page.GotoAsync(home.Address + "/spots");

        await Expect(tab.Page.GetByText("no page of it was kept")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByText("shelf")).ToHaveCountAsync(0);
    }

    // The push service of the browser's maker cannot be reached from a test, so the message is handed to the browser as that
    // service would hand it over: by the developer tools of the browser itself.
    [Fact]
    public async Task A_desktop_notice_opens_what_it_is_about()
    {
        await using var desktop = await Desktop.Start();
        using var profile = new TempFolder();
        await using var home = await OwnHome.Start(furnish: "spot add mat --kind heat-mat");
        await using var tab = await Chromium.OpenOn(desktop, profile, home.Address, Display.Phone);
        await tab.Allow("notifications");
        var worker = await tab.ServiceWorker();

        var opened = await tab.Page.Context.RunAndWaitForPageAsync(() =>
            worker.Push(
                JsonSerializer.Serialize(new { id = "alert-1-opened", title = "Danger: 55 °C on mat", body = "Unplug what heats it.",
                link = home.Address + "/spots/mat" })));

        var shown = await desktop.Shown();
        Assert.StartsWith("Danger: 55 °C on mat |", shown, StringComparison.Ordinal);
        Assert.EndsWith("Unplug what heats it.", shown, StringComparison.Ordinal);
        await Expect(opened).ToHaveURLAsync(home.Address + "/spots/mat");
        await Expect(opened.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("mat");
        await tab.Until("async () => (await (await navigator.serviceWorker.ready).getNotifications()).length === 0");
    }

    private static Task Kept(Tab tab, string path) =>
        tab.Until($"async () => await caches.has('chamber-pages') && await (await caches.open('chamber-pages')).match('{path}')");
}
