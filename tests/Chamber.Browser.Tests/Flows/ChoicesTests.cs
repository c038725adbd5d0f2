using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>°C or °F, light or dark: by the device, by choice, and each browser for itself.</summary>
public sealed class ChoicesTests(Chromium chromium)
{
    [Fact]
    public async Task Fahrenheit_is_kept_by_the_browser_that_chose_it_and_by_no_other()
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf", "read shelf 25C"]);
        await using var one = await chromium.Open(home.Address + "/spots", Display.Phone);
        await using var other = await chromium.Open(home.Address + "/spots", Display.Phone);
        await Expect(one.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToContainTextAsync("25 °C");

        await one.GoTo(home.Address + "/set-up");
        await one.Page.GetByRole(AriaRole.Button, new() { Name = "°F" }).ClickAsync();
        await Expect(one.Page.GetByRole(AriaRole.Button, new() { Name = "°F" })).ToHaveAttributeAsync("aria-pressed", "true");
        await one.GoTo(home.Address + "/spots");
        await Expect(one.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToContainTextAsync("77 °F");
        await one.GoTo(home.Address + "/set-up/read");
        await Expect(one.Page.GetByText("(°F)")).ToBeVisibleAsync();

        await other.GoTo(home.Address + "/spots");
        await Expect(other.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToContainTextAsync("25 °C");
    }

    [Fact]
    public async Task Dark_by_choice_beats_a_device_in_daylight()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up", Display.Phone);
        var day = await Ground(tab);

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Dark" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Dark" })).ToHaveAttributeAsync("aria-pressed", "true");
        await tab.Live();

        Assert.NotEqual(day, await Ground(tab));
        Assert.Empty(await tab.Barriers());
    }

    private static Task<string> Ground(Tab tab) => tab.Page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor");
}
