using Chamber.Browser.Tests.Rig;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Homes at the edges of what a page must hold: everything long, nothing at all.</summary>
public sealed class EdgeTests(Chromium chromium)
{
    [Fact]
    public async Task Names_as_long_as_they_may_be_fit_every_page_on_every_screen()
    {
        await using var home = await OwnHome.Start(Furnished.WithLongNames);
        await using var tab = await chromium.Open(home.Address + "/batches", Display.Phone);
        var batch = await tab.Page.Locator("a[href^='batches/tomatoes']").First.GetAttributeAsync("href");
        foreach (var (name, path) in (ValueTuple<string, string>[])
            [("today", ""), ("spots", "spots?crop=tomato"), ("spot", "spots/" + "shelf-above-the-boiler".PadRight(48, 'm')),
                ("batches", "batches"), ("batch", batch!),
                ("seeds", "seeds"), ("lot", "seeds/lots/" + "tomato-from-grandmother".PadRight(48, 'm')), ("place", "spots/place"),
                    ("probes", "set-up/probes")])
        {
            await tab.GoTo($"{home.Address}/{path}");
            await tab.FitsEveryScreen($"long-{name}");
        }

        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_home_with_nothing_in_it_says_on_every_page_what_to_do()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address, Display.Phone);
        foreach (var (name, path, words) in (ValueTuple<string, string, string>[])
            [("today", "", "set-up"), ("spots", "spots", "set-up/start"), ("crops", "spots/crops", "set-up/start"),
                ("side", "spots/compare", "spots"), ("batches", "batches", "seeds/sow"),
                ("seeds", "seeds", "seeds/add"), ("read", "set-up/read", "set-up/spots"), ("probes", "set-up/probes", "set-up"),
                    ("about", "set-up/about", "set-up"), ("set-up", "set-up", "set-up/start")])
        {
            await tab.GoTo($"{home.Address}/{path}");
            await Expect(tab.Page.Locator($"main a[href^='{words}']").First).ToBeVisibleAsync();
            await tab.FitsEveryScreen($"empty-{name}");
        }

        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task An_unknown_address_is_answered_by_the_page()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.New(Display.Phone);

        var answer = await tab.Page.GotoAsync(home.Address + "/no/such/place");
        await tab.Live();

        Assert.Equal(404, answer!.Status);
        await Expect(tab.Page.Locator("h1")).ToContainTextAsync("no such page");
        await Expect(tab.Page.Locator("nav a").First).ToBeVisibleAsync();
        await tab.FitsEveryScreen("edge-unknown");
    }
}
