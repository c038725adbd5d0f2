using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Whoever presses a key stays where they were: an action that redraws the page does not throw them back to its beginning. What
/// happened is said by a small motion, and not to those who want none.</summary>
public sealed class FocusTests(Chromium chromium)
{
    [Fact]
    public async Task A_look_on_Today_leaves_the_focus_in_the_page()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/", Display.Phone);

        await Press(tab, "2 up");
        await Expect(tab.Page.GetByText("T1: 2 up.")).ToBeVisibleAsync();
        await IsNear(tab);

        await Press(tab, "Undo");
        await Expect(tab.Page.GetByText("Taken back.")).ToBeVisibleAsync();
        await IsNear(tab);
        await Press(tab, "Close");
        await Expect(tab.Page.GetByText("Taken back.")).ToBeHiddenAsync();
        await IsNear(tab);
    }

    [Fact]
    public async Task What_is_done_on_a_batch_leaves_the_focus_in_the_page()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/batches/T1", Display.Laptop);

        await Press(tab, "3 up");
        await Expect(tab.Page.GetByText("T1: 3 up.")).ToBeVisibleAsync();
        await IsNear(tab);

        // What stays is still the one that was pressed.
        await Press(tab, "Watered");
        await Expect(tab.Page.GetByText("T1: watered.")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Watered" })).ToBeFocusedAsync();
        await Press(tab, "Warm-hours");
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Warm-hours" })).ToBeFocusedAsync();

        await tab.Page.GetByText("More actions").ClickAsync();
        await Press(tab, "It has ended");
        await Expect(tab.Page.GetByText("T1 has ended.")).ToBeVisibleAsync();
        await IsNear(tab);
    }

    [Theory]
    [InlineData("/seeds/plan", "Add a crop", "Remove")]
    [InlineData("/set-up/crops/trials", "Add a row", "Remove")]
    public async Task A_row_comes_and_goes_and_the_focus_stays(string path, string add, string remove)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + path, Display.Laptop);
        var rows = tab.Page.GetByRole(AriaRole.Button, new() { Name = remove });
        var before = await rows.CountAsync();
        await Press(tab, add);
        await Expect(rows).ToHaveCountAsync(before + 1);
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = add })).ToBeFocusedAsync();

        await rows.Last.FocusAsync();
        await tab.Page.Keyboard.PressAsync("Enter");
        await Expect(rows).ToHaveCountAsync(before);
        await IsNear(tab);
    }

    // Someone who moves about the page sees what the browser shows: nothing moves for those who want no motion.
    [Theory]
    [InlineData(ReducedMotion.Reduce, 0)]
    [InlineData(ReducedMotion.NoPreference, 3)]
    public async Task Seedlings_grow_where_motion_is_wanted(ReducedMotion motion, int moving)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/batches/T1", Display.Phone);
        await tab.Page.EmulateMediaAsync(new() { ReducedMotion = motion });
        await Press(tab, "3 up");
        await Expect(tab.Page.Locator(".seedlings path")).ToHaveCountAsync(3);

        Assert.Equal(moving, await tab.Page.Locator(".seedlings path").EvaluateAllAsync<int>(
            "all => all.filter(one => getComputedStyle(one).animationName === 'sprout').length"));
        if (motion == ReducedMotion.Reduce)
        {
            Assert.Equal(0, await tab.Page.EvaluateAsync<int>("() => document.getAnimations().length"));
        }
    }

    [Fact]
    public async Task A_page_that_takes_a_moment_shows_its_outline()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.New(Display.Phone);
        var held = new TaskCompletionSource();
        var hold = false;
        await tab.Page.RouteWebSocketAsync("**/_blazor**", socket =>
        {
            var server = socket.ConnectToServer();
            socket.OnMessage(async message =>
            {
                if (hold)
                {
                    await held.Task;
                }

                if (message.Binary is { } bytes)
                {
                    server.Send(bytes);
                }
                else
                {
                    server.Send(message.Text!);
                }
            });
        });
        await tab.GoTo(home.Address + "/");
        hold = true;
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "Spots", Exact = true }).First.ClickAsync();
        await tab.Page.Locator("main[data-loading]").WaitForAsync();
        held.SetResult();

        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Spots", Exact = true, Level = 1 })).ToBeFocusedAsync();
        await Expect(tab.Page.Locator("main[data-loading]")).ToHaveCountAsync(0);
        Assert.Empty(tab.Problems);
    }

    private static async Task Press(Tab tab, string button)
    {
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = button }).First.FocusAsync();
        await tab.Page.Keyboard.PressAsync("Enter");
    }

    // On something that can be pressed or typed into, and not at the beginning of the page.
    private static async Task IsNear(Tab tab) => await tab.Page.WaitForFunctionAsync(
        "() => document.activeElement.matches('main a, main button, main input, main select, main textarea, main summary')");
}
