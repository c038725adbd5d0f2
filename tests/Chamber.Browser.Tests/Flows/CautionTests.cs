using Chamber.Browser.Tests.Rig;
using Chamber.Core.Cautions;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Cautions at the moment of the act: in full when something is set up, sown or told, in a line that opens wherever it is
/// repeated.</summary>
public sealed class CautionTests(Chromium chromium)
{
    [Fact]
    public async Task Mat_treated_lot_and_danger_are_cautioned_in_full_then_in_a_line()
    {
        await using var home =
            await OwnHome.Start(furnish: ["spot add mat --kind heat-mat", "lot add okra-1 --crop okra --seeds 40 --treated"]);
        await using var tab = await chromium.Open(home.Address + "/set-up/start", Display.Phone);
        var page = tab.Page;
        await page.GetByText("heat mat").First.ClickAsync();
        await Expect(page.GetByText(CautionBook.HeatMat.Full)).ToBeVisibleAsync();
        await Expect(page.GetByText(CautionBook.WaterAndMains.Full)).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-caution-set-up");

        await tab.GoTo(home.Address + "/seeds/sow?lot=okra-1&spot=mat");
        await Expect(page.GetByText(CautionBook.TreatedSeed.Full)).ToBeVisibleAsync();
        await Expect(page.GetByText("sow it as it is, with nothing done")).ToBeVisibleAsync();
        await Expect(page.GetByText("soak 12")).ToHaveCountAsync(0);
        await tab.FitsEveryScreen("flow-caution-treated");

        await home.Do("read", "mat", "55C", "--sure");
        await tab.GoTo(home.Address + "/");
        var danger = page.GetByRole(AriaRole.Article).Filter(new() { HasText = "Danger: 55.0 °C on mat" });
        await Expect(danger).ToContainTextAsync(CautionBook.Fire.Full);
        await Expect(danger).ToContainTextAsync(CautionBook.HeatMat.Full);
        await tab.FitsEveryScreen("flow-caution-danger");
        await danger.GetByRole(AriaRole.Button, new() { Name = "Got it" }).ClickAsync();
        await Expect(danger.GetByText(CautionBook.Fire.Full)).ToBeHiddenAsync();
        await danger.GetByText("Caution, Danger").ClickAsync();
        await Expect(danger.GetByText(CautionBook.Fire.Full)).ToBeVisibleAsync();

        await tab.GoTo(home.Address + "/spots");
        await Expect(page.GetByText(CautionBook.HeatMat.Full)).ToBeHiddenAsync();
        await page.GetByRole(AriaRole.Article, new() { Name = "mat" }).GetByText("Caution, mat").ClickAsync();
        await Expect(page.GetByText(CautionBook.HeatMat.Full)).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-caution-line");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_crop_of_ones_own_is_asked_whether_it_is_poisonous()
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.Open(home.Address + "/set-up/crops", Display.Phone);
        var page = tab.Page;
        await tab.Live();
        await page.GetByLabel("Name, for a crop of your own").FillAsync("mine");
        await Expect(page.GetByText(CautionBook.PoisonUnknown.Full)).ToBeVisibleAsync();
        await page.GetByLabel("Yes", new() { Exact = true }).CheckAsync();
        await page.GetByLabel("Which part, and how?").FillAsync("the seed is poisonous");
        await tab.FitsEveryScreen("flow-caution-own-crop");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(page.GetByText("Kept:")).ToBeVisibleAsync();
        Assert.Contains("Mine: the seed is poisonous.", await home.Do("crops", "mine"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task Moved_to_the_light_asks_where_to_and_two_taps_are_one()
    {
        await using var home = await OwnHome.Start(store =>
        {
            Furnished.WithTomatoesDue(store);
            store.Ledger.SetUp.Save(new Core.Spots.Spot(new("sill"), Core.Spots.SpotKind.Sill, Core.Spots.LightLevel.Bright, 4));
            store.Ledger.SetUp.Save(new Core.Spots.Spot(new("window"), Core.Spots.SpotKind.Sill, Core.Spots.LightLevel.Bright, 4));
        });
        await home.Do("look", "T1", "5");
        await using var tab = await chromium.Open(home.Address + "/", Display.Phone);
        var page = tab.Page;
        await tab.Live();
        var card = page.GetByRole(AriaRole.Article).Filter(new() { HasText = "Move to the light" });
        await card.GetByLabel("Moved to the light, T1, on").SelectOptionAsync("window");
        await tab.FitsEveryScreen("flow-to-the-light");
        await card.GetByRole(AriaRole.Button, new() { Name = "Moved to the light: T1" }).DblClickAsync();
        await Expect(page.GetByText("Written down. T1: in the light, on window.")).ToBeVisibleAsync();
        await Expect(card).ToHaveCountAsync(0);
        Assert.Contains("window", await home.Do("batches"), StringComparison.Ordinal);

        await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(page.GetByText("Taken back.")).ToBeVisibleAsync();
        await Expect(card).ToBeVisibleAsync();
        Assert.DoesNotContain("window", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }
}
