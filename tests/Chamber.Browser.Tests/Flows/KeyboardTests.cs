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
    public async Task A_second_choice_stays_when_the_answer_to_the_first_is_late()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.New(Display.Laptop);
        var answers = await HeldAnswers.On(tab.Page);
        await tab.GoTo(home.Address + "/set-up/start");
        var (mat, sill) = (tab.Page.GetByLabel("heat mat", new() { Exact = true }), tab.Page.GetByLabel("sill", new() { Exact = true }));

        answers.Hold();
        await mat.CheckAsync();
        await sill.CheckAsync();
        await answers.Holds(2);
        answers.LetOneGo();
        await Expect(tab.Page.GetByText("Unplug the mat at the wall").First).ToBeVisibleAsync();
        await Expect(sill).ToBeCheckedAsync();

        answers.LetGo();
        await Expect(tab.Page.GetByText("Unplug the mat at the wall").First).ToBeHiddenAsync();
        await Expect(sill).ToBeCheckedAsync();
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
