using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What is done to a batch after it was sown, tap by tap on its page, and what is known of its seed.</summary>
public sealed class BatchLifeTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_batch_is_watered_lit_moved_and_ended_and_a_tap_is_undone(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(store =>
        {
            Furnished.WithTomatoesDue(store);
            store.Ledger.SetUp.Save(new Core.Spots.Spot(new("sill"), Core.Spots.SpotKind.Sill, Core.Spots.LightLevel.Bright, 4));
            store.Ledger.SetUp.Save(new Core.Spots.Spot(new("window"), Core.Spots.SpotKind.Sill, Core.Spots.LightLevel.Bright, 4));
        });
        await using var tab = await chromium.Open(home.Address + "/batches", new(width, theme));
        var page = tab.Page;
        await page.GetByRole(AriaRole.Link, new() { Name = "T1" }).First.ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("T1");

        await Press(tab, "Watered");
        await Expect(page.GetByText("T1: watered.")).ToBeVisibleAsync();
        await page.GetByText("Earlier, how damp, or a note").ClickAsync();
        await page.GetByLabel("How damp does it feel?").SelectOptionAsync("Dry");
        await Press(tab, "3 up");
        await Expect(page.GetByText("T1: 3 up.")).ToBeVisibleAsync();
        await page.GetByLabel("Moved to the light, T1, on").SelectOptionAsync("window");
        await Press(tab, "Moved to the light: T1");
        await Expect(page.GetByText("T1: in the light, on window.")).ToBeVisibleAsync();
        await page.GetByText("More actions").ClickAsync();
        await page.GetByLabel("Where does it stand now?").SelectOptionAsync("sill");
        await Press(tab, "Moved");
        await Expect(page.GetByText("T1 stands on sill.")).ToBeVisibleAsync();
        await page.GetByLabel("To be planted out on").FillAsync("2099-05-17");
        await Press(tab, "Save the day");
        await Expect(page.GetByText("T1 is to be planted out on")).ToBeVisibleAsync();
        await page.GetByLabel("What to").SelectOptionAsync("DampingOff");
        await Press(tab, "Save the loss");
        await Expect(page.GetByText("T1: 1 lost (damping off).")).ToBeVisibleAsync();
        await Press(tab, "Undo");
        await Expect(page.GetByText("Taken back.")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-batch");

        await Press(tab, "Planted out");
        await Press(tab, "It has ended");
        await Expect(page.GetByText("T1 has ended.")).ToBeVisibleAsync();
        var story = page.GetByRole(AriaRole.Region, new() { Name = "What was seen and done" });
        await Expect(story).ToContainTextAsync("sill");
        await Expect(story).ToContainTextAsync("3 up, dry");
        await Expect(story).Not.ToContainTextAsync("damping off");
        Assert.DoesNotContain("T1", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Seedlings_are_counted_by_touch_on_a_photo(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(Furnished.WithTomatoesDue);
        await using var tab = await chromium.Open(home.Address + "/batches/T1", new(width, theme));
        var page = tab.Page;
        await tab.Live();

        await Add(page, SkiaSharp.SKColors.SaddleBrown);
        await page.GetByRole(AriaRole.Button, new() { Name = "T1, day 6" }).ClickAsync();
        var photo = page.GetByRole(AriaRole.Region, new() { Name = "Photo of day 6" });
        await Tap(photo, 0.25, 0.5);
        await Tap(photo, 0.7, 0.4);
        await Expect(photo.GetByText("2 of 12 up.")).ToBeVisibleAsync();
        await Tap(photo, 0.5, 0.8);
        await photo.GetByRole(AriaRole.Button, new() { Name = "Seedling 2: take the mark away" }).ClickAsync();
        await tab.FitsEveryScreen("flow-photo");
        await photo.GetByRole(AriaRole.Button, new() { Name = "Save the count" }).ClickAsync();
        await Expect(page.GetByText("T1: 2 up.")).ToBeVisibleAsync();

        await Add(page, SkiaSharp.SKColors.DarkOliveGreen);
        await page.GetByRole(AriaRole.Button, new() { Name = "T1, day 6" }).Last.ClickAsync();
        await Expect(page.GetByText("Marks of the photo before")).ToBeVisibleAsync();
        await photo.GetByRole(AriaRole.Button, new() { Name = "Remove the photo" }).ClickAsync();
        await Expect(page.GetByText("The photo is removed.")).ToBeVisibleAsync();
        await Press(tab, "Undo");
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "T1, day 6" })).ToHaveCountAsync(2);
        Assert.Contains("2 of 12", await home.Do("batches"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    private static async Task Add(IPage page, SkiaSharp.SKColor colour)
    {
        await page.GetByLabel("Add a photo").SetInputFilesAsync(new FilePayload
        {
            Name = "tray.jpg", MimeType = "image/jpeg", Buffer = SomePhoto.Jpeg(1200, 900, colour),
        });
        await Expect(page.GetByText("The photo is kept.")).ToBeVisibleAsync();
    }

    private static async Task Tap(ILocator photo, double x, double y)
    {
        var image = photo.GetByRole(AriaRole.Img);
        await image.ScrollIntoViewIfNeededAsync();
        var box = (await image.BoundingBoxAsync())!;
        await image.ClickAsync(new() { Position = new() { X = (float)(x * box.Width), Y = (float)(y * box.Height) } });
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_lot_is_added_tested_counted_and_sown_from(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.Open(home.Address + "/seeds", new(width, theme));
        var page = tab.Page;

        await page.GetByRole(AriaRole.Link, new() { Name = "Add" }).First.ClickAsync();
        await page.GetByLabel("What is it?").SelectOptionAsync("onion");
        await page.GetByLabel("How many seeds?").FillAsync("80");
        await page.GetByLabel("own plants").CheckAsync();
        await page.GetByLabel("Year of the harvest").FillAsync("2025");

        // The name that the page proposes comes from the server, and would be written over what is typed before it.
        await page.GetByLabel("Short name").FocusAsync();
        await Expect(page.GetByLabel("Short name")).ToHaveValueAsync("onion-25");
        await page.GetByLabel("Short name").FillAsync("onion-own");
        await Press(tab, "Add it");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("onion-own");

        await page.GetByText("A test is done").ClickAsync();
        await page.GetByLabel("How many came up well?").FillAsync("16");
        await page.GetByLabel("Of how many seeds?").FillAsync("20");
        await Press(tab, "Save the test");
        await Expect(page.GetByText("16 of 20 good").First).ToBeVisibleAsync();
        await page.GetByText("Correct the count").ClickAsync();
        await page.GetByLabel("How many seeds are there now?").FillAsync("50");
        await Press(tab, "Save the count");
        await Expect(page.GetByText("50 left")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-lot");

        await page.GetByRole(AriaRole.Link, new() { Name = "Sow from it" }).ClickAsync();
        await page.GetByLabel("How many seeds?", new() { Exact = true }).FillAsync("12");
        await page.GetByLabel("Where?").SelectOptionAsync("shelf");
        await Press(tab, "Sown");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync("onion");
        Assert.Contains("38", await home.Do("lots"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    private static Task Press(Tab tab, string name) =>
        tab.Page.GetByRole(AriaRole.Button, new() { Name = name, Exact = true }).ClickAsync();
}
