using System.Text;
using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>A day with batches: look and tap, sow, read the chart, print labels.</summary>
public sealed class DayTests(Chromium chromium, SampleHome sample)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task One_tap_on_Today_writes_down_a_look_and_another_takes_it_back(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address, new(width, theme));

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "2 up", Exact = true }).First.ClickAsync();

        await Expect(tab.Page.GetByText("T1: 2 up")).ToBeVisibleAsync();
        await tab.Picture("flow-one-tap");
        Assert.Contains("2 of 12", await home.Do("batches"), StringComparison.Ordinal);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(tab.Page.GetByText("Taken back")).ToBeVisibleAsync();
        Assert.Contains("0 of 12", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Something_is_sown_on_the_page_and_stands_among_the_batches(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: "spot add sill --kind sill --light bright");
        await using var tab = await chromium.Open(home.Address + "/seeds/sow", new(width, theme));

        await tab.Page.GetByLabel("What?").SelectOptionAsync("crop:tomato");
        await tab.Page.GetByLabel("How many seeds?").FillAsync("20");
        await tab.Page.GetByLabel("Where?").SelectOptionAsync("sill");
        await Expect(tab.Page.GetByText("a shut lid in the sun cooks")).ToBeVisibleAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Sown" }).ClickAsync();

        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("tomato");
        Assert.Contains("0 of 20", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task The_chart_tells_the_temperature_under_the_pointer_and_zooms(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(sample.Address + "/batches/T1", new(width, theme));
        await tab.ChartsAreDrawn();
        var chart = tab.Page.Locator("figure.chart > div").First;

        await chart.HoverAsync();
        await Expect(chart.GetByText("Temperature")).ToBeVisibleAsync();
        await tab.Page.Keyboard.DownAsync("Control");
        await tab.Page.Mouse.WheelAsync(0, -400);
        await tab.Page.Keyboard.UpAsync("Control");

        await tab.Page.WaitForFunctionAsync("place => { const zoom = echarts.getInstanceByDom(place).getOption().dataZoom[0]; return "
            + "zoom.end - zoom.start < 99; }", await chart.ElementHandleAsync());
        await tab.Picture("flow-chart-zoom");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task The_words_of_the_looks_do_not_lie_on_each_other_on_a_phone()
    {
        await using var tab = await chromium.Open(sample.Address + "/batches/T1", Display.Phone);
        await tab.ChartsAreDrawn();

        var overlaps = await tab.Page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('figure.chart')].flatMap(chart => {
                const words = [...chart.querySelectorAll('text')].filter(text => text.textContent.endsWith(' up')).map(text => [text.textContent, text.getBoundingClientRect()]);
                return words.flatMap(([one, a], i) => words.slice(i + 1).filter(([, b]) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).map(([other]) => `${one} on ${other}`));
            })
            """);

        Assert.Empty(overlaps);
        await Expect(tab.Page.Locator("figure.chart text").GetByText("up").First).ToBeVisibleAsync();
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Labels_come_as_a_file_to_print(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(sample.Address + "/batches/T1", new(width, theme));

        var labels = await tab.Page.RunAndWaitForDownloadAsync(
            () => tab.Page.GetByRole(AriaRole.Link, new() { Name = "Label as PDF" }).ClickAsync());

        var file = await File.ReadAllBytesAsync(await labels.PathAsync(), TestContext.Current.CancellationToken);
        Assert.StartsWith("%PDF-", Encoding.ASCII.GetString(file[..8]), StringComparison.Ordinal);
    }
}
