using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>With the keyboard alone.</summary>
public sealed class KeyboardTests(Chromium chromium)
{
    [Fact]
    public async Task A_spot_is_added_without_touching_a_mouse()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/start", Display.Laptop);
        var keys = tab.Page.Keyboard;

        await tab.Page.GetByLabel("What do you call it?").FocusAsync();
        await keys.TypeAsync("sill");
        await keys.PressAsync("Tab");
        await keys.PressAsync("ArrowLeft");
        await Expect(tab.Page.GetByLabel("refrigerator", new() { Exact = true })).ToBeCheckedAsync();
        await keys.PressAsync("ArrowLeft");
        await Expect(tab.Page.GetByLabel("sill", new() { Exact = true })).ToBeCheckedAsync();
        await keys.PressAsync("Tab");
        await keys.PressAsync("ArrowRight");
        await keys.PressAsync("Tab");
        await keys.PressAsync("Tab");
        await keys.PressAsync("Enter");

        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "How will you measure there?" })).ToBeVisibleAsync();
        Assert.Contains("bright", await home.Do("spots"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_keyboard_starts_at_the_content_and_the_menu_is_one_step_back()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/spots", Display.Laptop);

        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Spots" })).ToBeFocusedAsync();
        await tab.Page.Keyboard.PressAsync("Shift+Tab");
        await Expect(tab.Page.GetByRole(AriaRole.Link, new() { Name = "Set up", Exact = true })).ToBeFocusedAsync();
        await tab.Page.Keyboard.PressAsync("Enter");
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Set up" })).ToBeFocusedAsync();
    }
}
