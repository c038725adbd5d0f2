using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>The plan of a season, from what somebody wants to what it costs, and still there afterwards.</summary>
public sealed class PlanTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_season_planned_from_a_harvest_with_its_costs_is_still_there_later(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/seeds/plan", new(width, theme));
        var page = tab.Page;
        await page.GetByLabel("Your last frost").FillAsync("2027-05-10");
        await page.GetByLabel("Crop", new() { Exact = true }).SelectOptionAsync("tomato");
        await page.GetByText("From a harvest").ClickAsync();
        await page.GetByLabel("I want").FillAsync("20");
        await page.GetByLabel("A plant gives").FillAsync("2.5");
        await page.GetByText("Losses and prices").ClickAsync();
        await page.GetByLabel("Price of a bought plant").FillAsync("2.5");
        await page.GetByLabel("Price of a litre of mix").FillAsync("0.4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Work it out" }).ClickAsync();

        // 8 plants × 0.5 l × 0.40; bought 8 × 2.50.
        await Expect(page.GetByText("All of it costs 1.60: mix 1.60. Bought, these 8 plants would cost 20.00: it saves 18.40."))
            .ToBeVisibleAsync();
        await Expect(page.GetByLabel("Plants", new() { Exact = true })).ToHaveValueAsync("8");
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        await tab.Picture("plan-with-costs");

        await tab.GoTo(home.Address + "/seeds/plan");
        await Expect(page.GetByText("All of it costs 1.60")).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }
}
