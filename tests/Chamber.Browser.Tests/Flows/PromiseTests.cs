using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What the README promises of the page too: calibrating, working in peace, trials, prices.</summary>
public sealed class PromiseTests(Chromium chromium)
{
    private static readonly string[] Furnish = ["spot add shelf", "probe add p1 --spot shelf",
        "sow tomato --seeds 12 --spot shelf --name T1"];

    [Fact]
    public async Task Moisture_is_calibrated_and_that_taken_back()
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open(home.Address + "/set-up/calibrate?probe=p1", Display.Phone);
        await tab.Page.GetByLabel("How was it tried?").SelectOptionAsync("in ice water");
        await Expect(tab.Page.Locator(".caution").First).ToBeVisibleAsync();
        await tab.Page.GetByLabel("How was it tried?").SelectOptionAsync("moisture, in dry mix");
        await tab.Page.GetByLabel("Its raw value").FillAsync("812");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Work it out" }).ClickAsync();
        await Expect(tab.Page.GetByText("Written down. Dry at 812.")).ToBeVisibleAsync();
        Assert.Contains("812", await home.Do("calibrate", "list"), StringComparison.Ordinal);
        await tab.FitsEveryScreen("flow-calibrated");

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Take back the last" }).ClickAsync();
        await Expect(tab.Page.GetByText("is taken back.")).ToBeVisibleAsync();
        Assert.DoesNotContain("812", await home.Do("calibrate", "list"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Work_on_a_spot_is_said_and_ended_where_it_stands(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open(home.Address + "/spots/shelf", new(width, theme));
        await tab.Page.Locator("summary", new() { HasText = "Pause alerts here" }).ClickAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "For 2 hours" }).ClickAsync();
        await Expect(tab.Page.GetByText("Somebody works here.")).ToBeVisibleAsync();
        Assert.Contains("shelf: under maintenance", await home.Do("maintenance"), StringComparison.Ordinal);
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "The work is done" }).ClickAsync();
        await Expect(tab.Page.GetByText("Somebody works here.")).ToHaveCountAsync(0);
        Assert.Contains("Nothing is under maintenance", await home.Do("maintenance"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task Trials_typed_at_three_temperatures_become_a_crop()
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open(home.Address + "/set-up/crops/trials", Display.Phone);
        (string At, string From, string To, string Count)[] rows = [("18", "7", "9", "9"), ("22", "4", "6", "10"), ("26", "3", "4,5", "9")];
        foreach (var (row, number) in rows.Select((row, index) => (row, index + 1)))
        {
            var group = tab.Page.GetByRole(AriaRole.Group, new() { Name = $"Row {number}" });
            await group.GetByLabel("At,").FillAsync(row.At);
            await group.GetByLabel("From day").FillAsync(row.From);
            await group.GetByLabel("To day").FillAsync(row.To);
            await group.GetByLabel("Seeds").FillAsync(row.Count);
        }

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Work it out" }).ClickAsync();
        await Expect(tab.Page.GetByText("28 seeds at 3 temperatures")).ToBeVisibleAsync();
        await tab.Page.GetByLabel("Save as a crop").FillAsync("our tomato");
        await Expect(tab.Page.Locator(".caution")).ToBeVisibleAsync();
        await tab.Page.GetByLabel("Is any part of it poisonous?").FillAsync("no");
        await Expect(tab.Page.Locator(".caution")).ToHaveCountAsync(0);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(tab.Page.GetByText("Saved as our-tomato.")).ToBeVisibleAsync();
        Assert.Contains("our-tomato", await home.Do("crops", "our-tomato"), StringComparison.Ordinal);
        await tab.FitsEveryScreen("flow-trials");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_price_typed_at_the_season_counts_there_and_in_the_plan()
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open(home.Address + "/batches/season", Display.Phone);
        await tab.Page.Locator("summary", new() { HasText = "Prices" }).ClickAsync();
        await tab.Page.GetByLabel("A litre of mix").FillAsync("0.80");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save the prices" }).ClickAsync();
        await tab.Unfold("What it cost");
        await Expect(tab.Page.GetByText("Spent on mix 0.40")).ToBeVisibleAsync();
        await tab.GoTo(home.Address + "/seeds/plan");
        await tab.Page.Locator("summary", new() { HasText = "Losses and prices" }).ClickAsync();
        await Expect(tab.Page.GetByLabel("Price of a litre of mix")).ToHaveValueAsync("0.80");
        Assert.Empty(tab.Problems);
    }
}
