using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Placing before, comparing and adding up afterwards.</summary>
public sealed class LookBackTests(Chromium chromium, SampleHome home)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Two_batches_are_chosen_and_compared(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(home.Address + "/batches/compare", new(width, theme));
        await tab.Page.GetByLabel("One", new() { Exact = true }).SelectOptionAsync("T1");
        await tab.Page.GetByLabel("Other", new() { Exact = true }).SelectOptionAsync("B1");
        await Expect(tab.Page.GetByText("No proof.", new() { Exact = true })).ToBeVisibleAsync();
        await Expect(tab.Page.GetByText("any of these may be why")).ToBeVisibleAsync();
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task Two_batches_chosen_faster_than_the_address_follows_are_both_kept()
    {
        await using var tab = await chromium.Open(home.Address + "/batches/compare", Display.Phone);
        await tab.Page.EvaluateAsync("""
            () => [["first", "T1"], ["second", "B1"]].forEach(([list, batch]) => {
                document.getElementById(list).value = batch;
                document.getElementById(list).dispatchEvent(new Event("change", { bubbles: true }));
            })
            """);
        await Expect(tab.Page.GetByText("No proof.", new() { Exact = true })).ToBeVisibleAsync();
        await Expect(tab.Page).ToHaveURLAsync(home.Address + "/batches/compare?first=T1&second=B1");
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_crop_to_be_sown_is_given_a_spot_with_the_reason(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(home.Address + "/spots/place", new(width, theme));
        await tab.Page.GetByLabel("To be sown").SelectOptionAsync("tomato");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Add" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "tomato" })).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Article).Filter(new() { HasText = "tomato" })).ToContainTextAsync("Half up in");
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task The_season_leaves_out_what_is_still_coming_up(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(home.Address + "/batches/season", new(width, theme));
        await Expect(tab.Page.Locator("details", new() { HasText = "Not counted yet" })).ToContainTextAsync("S1");
        await Expect(tab.Page.GetByRole(AriaRole.Region, new() { Name = "The season by spot" })).ToContainTextAsync("sunny-sill");
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        Assert.Empty(tab.Problems);
    }
}
