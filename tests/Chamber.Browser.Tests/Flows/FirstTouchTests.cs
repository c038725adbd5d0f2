using Chamber.Browser.Tests.Rig;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Storage;
using Microsoft.Playwright;
using NodaTime;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What a hand does first: it taps before the page is ready, types a count and presses Enter, swipes over a chart.</summary>
public sealed class FirstTouchTests(Chromium chromium, SampleHome sample)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_chart_of_one_reading_shows_it_as_a_point(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(
            furnish: ["spot add sill --kind sill --light bright", "probe add p1 --measures media --spot sill", "read sill 19.5C"]);
        await using var tab = await chromium.Open(home.Address + "/spots/sill", new(width, theme));
        await tab.ChartsAreDrawn();
        await tab.Picture("flow-first-point");

        Assert.Empty(tab.Problems);
        var box = await tab.Page.EvaluateAsync<float[]>("""
            () => {
                const place = document.querySelector('figure.chart > div'), chart = echarts.getInstanceByDom(place), frame = place.getBoundingClientRect();
                const [x, y] = chart.convertToPixel({ xAxisIndex: 0, yAxisIndex: 0 }, chart.getOption().series.find(one => one.type === 'scatter').data[0]);
                const clay = getComputedStyle(document.documentElement).getPropertyValue('--clay').trim();
                const drawn = [...place.querySelectorAll(`path[fill="${clay}"]`)].map(path => path.getBoundingClientRect()).filter(one => one.width > 4);
                return [x, y, frame.width, frame.height, drawn.length];
            }
            """);
        Assert.InRange(box[0], 20, box[2] - 20);
        Assert.InRange(box[1], 20, box[3] - 20);
        Assert.Equal(1, box[4]);
    }

    [Theory]
    [InlineData(360, true)]
    [InlineData(360, false)]
    [InlineData(1280, true)]
    [InlineData(1280, false)]
    public async Task A_count_that_is_typed_is_written_down_by_Enter_or_by_one_tap(int width, bool byEnter)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/batches/T1", new(width, ColorScheme.Light));
        var field = tab.Page.GetByLabel("Up in T1 in all");

        await field.ClickAsync();
        await tab.Page.Keyboard.TypeAsync("5");
        if (byEnter)
        {
            await tab.Page.Keyboard.PressAsync("Enter");
        }
        else
        {
            await tab.Page.GetByRole(AriaRole.Button, new() { Name = "up", Exact = true }).ClickAsync();
        }

        await Expect(tab.Page.GetByText("T1: 5 up")).ToBeVisibleAsync();
        Assert.Contains("5 of 12", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_tap_far_down_the_page_is_answered_where_it_is_seen(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(WithManyBatches);
        await using var tab = await chromium.Open(home.Address, new(width, theme));
        var last = tab.Page.GetByRole(AriaRole.Button, new() { Name = "Nothing yet" }).Last;

        await last.ScrollIntoViewIfNeededAsync();
        Assert.True(await tab.Page.EvaluateAsync<int>("() => Math.round(scrollY)") > 300);
        await last.ClickAsync();

        await Expect(tab.Page.GetByText("Written down.")).ToBeInViewportAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).ToBeInViewportAsync();
        await tab.Picture("flow-answer-in-sight", whole: false);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(tab.Page.GetByText("Taken back.")).ToBeInViewportAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Close", Exact = true }).ClickAsync();
        await Expect(tab.Page.GetByText("Taken back.")).ToHaveCountAsync(0);
        Assert.Empty(await tab.Barriers());
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1280)]
    public async Task A_tap_before_the_page_is_live_is_done_when_it_is(int width)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.New(new(width, ColorScheme.Light));
        var release = await Held(tab);
        await tab.Page.GotoAsync(home.Address + "/batches/T1");

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "2 up", Exact = true }).ClickAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "2 up", Exact = true }).ClickAsync();
        await tab.Picture("flow-early-tap", whole: false);
        release();

        await Expect(tab.Page.GetByText("T1: 2 up")).ToBeVisibleAsync();
        Assert.Equal(0, await tab.Page.Locator("[aria-busy]").CountAsync());
        Assert.Equal(1, await tab.Page.Locator(".story li li").Filter(new() { HasText = "2 up" }).CountAsync());
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task What_is_typed_before_the_page_is_live_stays_and_is_sent_with_Enter()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.New(Display.Phone);
        var release = await Held(tab);
        await tab.Page.GotoAsync(home.Address + "/batches/T1");

        await tab.Page.GetByLabel("Up in T1 in all").ClickAsync();
        await tab.Page.Keyboard.TypeAsync("6");
        await tab.Page.Keyboard.PressAsync("Enter");
        release();

        await Expect(tab.Page.GetByText("T1: 6 up")).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task What_has_gone_when_the_page_is_live_is_asked_for_again()
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.New(Display.Phone);
        var release = await Held(tab);
        await tab.Page.GotoAsync(home.Address + "/batches/T1");

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "2 up", Exact = true }).ClickAsync();
        await home.Do("look", "T1", "3");
        release();

        await Expect(tab.Page.GetByText("Press it again.")).ToBeVisibleAsync();
        Assert.Contains("3 of 12", await home.Do("batches"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_swipe_over_a_chart_scrolls_the_page()
    {
        await using var tab = await chromium.Open(sample.Address + "/batches/T1", Display.Phone);
        await tab.ChartsAreDrawn();
        var chart = tab.Page.Locator("figure.chart > div").First;
        await chart.ScrollIntoViewIfNeededAsync();
        var before = await tab.Page.EvaluateAsync<int>("() => Math.round(scrollY)");

        await tab.SwipeUp(chart, 250);

        Assert.InRange(await tab.Page.EvaluateAsync<int>("() => Math.round(scrollY)") - before, 150, 350);
        Assert.Empty(tab.Problems);
    }

    // The page is there, and the connection that makes it live waits for the word.
    private static async Task<Action> Held(Tab tab)
    {
        var word = new TaskCompletionSource();
        await tab.Page.RouteAsync("**/_blazor/negotiate**", async route =>
        {
            await word.Task;
            await route.ContinueAsync();
        });
        return word.SetResult;
    }

    private static void WithManyBatches(ChamberStore store)
    {
        Furnished.WithTomatoesDue(store);
        var sown = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow()) - Duration.FromDays(6);
        for (var number = 2; number <= 8; number++)
        {
            store.Ledger.Batches.Sow(new(new($"T{number}"), new("tomato"), null, SowingMethod.CoveredMix, sown, 12,
                [new Stay(new SpotId("shelf"), new(sown, null))], [], null));
        }
    }
}
