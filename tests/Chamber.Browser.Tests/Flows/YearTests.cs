using System.Text.RegularExpressions;
using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>The strip of the year: a sowing of the plan is moved by hand or by keyboard, and what that changes is said.</summary>
public sealed class YearTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_sowing_is_moved_by_keyboard_and_the_days_follow(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf"]);
        await using var tab = await chromium.Open(home.Address + "/seeds/plan", new(width, theme));
        var year = TimeProvider.System.GetUtcNow().Year + 1;
        await tab.Page.GetByLabel("Your last frost").FillAsync($"{year}-05-10");
        await tab.Page.Locator("#crop-1").SelectOptionAsync("tomato");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Work it out" }).ClickAsync();
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "See the year" }).ClickAsync();
        var slider = tab.Page.GetByRole(AriaRole.Slider);
        await Expect(tab.Page.GetByText("Sow as planned")).ToBeVisibleAsync();
        var before = await tab.Page.Locator(".strip-name .small").First.InnerTextAsync();
        await slider.FocusAsync();
        for (var day = 0; day < 7; day++)
        {
            await slider.PressAsync("ArrowRight");
        }

        await Expect(tab.Page.GetByText("Sow 7 days later")).ToBeVisibleAsync();
        await Expect(tab.Page.Locator(".strip-name .small").First).Not.ToHaveTextAsync(before);
        await Expect(slider).ToBeFocusedAsync();
        await Expect(tab.Page.GetByText(new Regex("All fits in the light|Too little light"))).ToBeVisibleAsync();
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());

        // On paper there is no slider and no button, and the strip stands whole.
        await tab.Page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(slider).ToBeHiddenAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Print" })).ToBeHiddenAsync();
        await Expect(tab.Page.Locator(".strip")).ToBeVisibleAsync();
    }
}
