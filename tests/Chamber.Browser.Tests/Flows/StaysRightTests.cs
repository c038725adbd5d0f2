using System.Globalization;
using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What a page shows stays right, and when it cannot it says so.</summary>
public sealed class StaysRightTests(Chromium chromium)
{
    [Fact]
    public async Task A_reading_shows_in_two_browsers_at_once_without_a_reload()
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf", "probe add p1 --spot shelf --measures media"]);
        await using var kitchen = await chromium.Open(home.Address + "/spots", Display.Phone);
        await using var table = await chromium.Open(home.Address + "/spots", new(1280, ColorScheme.Dark));
        await Marked(kitchen);
        await Marked(table);

        await home.Publish("p1", """{"temperature": 21.25}""");

        await Expect(Card(kitchen)).ToContainTextAsync("21.3 °C");
        await Expect(Card(table)).ToContainTextAsync("21.3 °C");
        Assert.True(await IsMarked(kitchen) && await IsMarked(table), "A page was loaded again instead of being told.");
    }

    [Fact]
    public async Task What_somebody_writes_on_the_command_line_shows_on_the_page()
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.Open(home.Address + "/spots", Display.Phone);

        await home.Do("read", "shelf", "23.5C");

        await Expect(Card(tab)).ToContainTextAsync("23.5 °C");
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task After_the_service_restarts_the_page_comes_back_by_itself(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf", "probe add p1 --spot shelf"]);
        await using var tab = await chromium.Open(home.Address + "/spots", new(width, theme));

        await home.StopService();
        await Expect(tab.Page.GetByText("This page has stopped.")).ToBeVisibleAsync();
        await tab.Picture("flow-stopped", whole: false);
        await home.StartService();
        await home.Publish("p1", """{"temperature": 22}""");

        await Expect(Card(tab)).ToContainTextAsync("22 °C");
        await Expect(tab.Page.GetByText("This page has stopped.")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task A_phone_that_wakes_up_doubts_its_page_until_the_service_answers()
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.New(Display.Phone);
        await tab.Page.Clock.InstallAsync();
        await tab.GoTo(home.Address + "/spots");

        // Ten minutes in a pocket: the clock has gone on, and no sign of life came in.
        await tab.Page.EvaluateAsync("() => new Promise(done => new MutationObserver(done).observe(document.body, { subtree: true, "
            + "attributes: true, attributeFilter: ['data-beat'] }))");
        await tab.Page.Clock.SetSystemTimeAsync(TimeProvider.System.GetUtcNow().UtcDateTime.AddMinutes(10));
        await tab.Page.EvaluateAsync("() => document.dispatchEvent(new Event('visibilitychange'))");
        await Expect(tab.Page.GetByText("This page has stopped.")).ToBeVisibleAsync();

        // The next beat of the service clears it, since the connection was there all along.
        await Expect(tab.Page.GetByText("This page has stopped.")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task Thousands_of_readings_are_drawn_a_few_times_and_the_last_one_shows()
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf", "probe add p1 --spot shelf"]);
        await using var tab = await chromium.Open(home.Address + "/spots", Display.Phone);
        await tab.Page.EvaluateAsync("""
            () => { window.drawn = 0; new MutationObserver(() => window.drawn++).observe(document.querySelector('.degrees'), { subtree: true, characterData: true, childList: true }); }
            """);
        var start = TimeProvider.System.GetUtcNow().AddHours(-2);
        var readings = Enumerable.Range(0, 5000).Select(i => string.Create(
            CultureInfo.InvariantCulture,
                $$"""{"temperature": {{20 + (i % 50 / 10.0)}}, "at": "{{start.AddSeconds(i):yyyy-MM-ddTHH:mm:ssZ}}"}"""));

        await home.PublishLines("p1", readings);
        await home.Publish("p1", """{"temperature": 27.5}""");

        await Expect(Card(tab)).ToContainTextAsync("27.5 °C");
        Assert.InRange(await tab.Page.EvaluateAsync<int>("() => window.drawn"), 1, 100);
    }

    private static ILocator Card(Tab tab) => tab.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" });

    private static async Task Marked(Tab tab) => await tab.Page.EvaluateAsync("() => { window.marked = true; }");

    private static Task<bool> IsMarked(Tab tab) => tab.Page.EvaluateAsync<bool>("() => window.marked === true");
}
