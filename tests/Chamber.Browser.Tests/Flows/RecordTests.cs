using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>The record behind each thing: its history, another name, a correction, readings left out, and taking all of it back.</summary>
public sealed class RecordTests(Chromium chromium)
{
    private static readonly string[] Furnish = ["spot add shelf", "lot add tom-24 --crop tomato --seeds 40", "probe add p1 --spot shelf",
        "sow tomato --seeds 12 --spot shelf --lot tom-24 --name T1"];

    [Theory]
    [InlineData("batches/T1", "T1", "M7", "batches/M7")]
    [InlineData("spots/shelf", "shelf", "warm-shelf", "spots/warm-shelf")]
    [InlineData("seeds/lots/tom-24", "tom-24", "red-24", "seeds/lots/red-24")]
    public async Task A_thing_is_renamed_where_it_stands_and_the_name_taken_back(string path, string from, string to, string then)
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open($"{home.Address}/{path}", Display.Phone);
        await tab.Page.Locator("summary", new() { HasText = "Rename" }).ClickAsync();
        await tab.Page.GetByLabel("Its name from now on").FillAsync(to);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save the name" }).ClickAsync();
        await Expect(tab.Page.GetByText($"{from} is called {to} from now on.")).ToBeVisibleAsync();
        await Expect(tab.Page).ToHaveURLAsync($"{home.Address}/{then}");

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(tab.Page).ToHaveURLAsync($"{home.Address}/{path}");
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = $"History of {from}" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = $"History of {from}" })).ToBeVisibleAsync();
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        Assert.Empty(tab.Problems);
    }

    // The address of a new name goes to the browser and back: a tap comes while it is on its way, behind it, or even before it.
    [Theory]
    [InlineData("batches/T1", "T1", false, "spot add second", "second")]
    [InlineData("batches/T1", "T1", true, "spot add second", "second")]
    [InlineData("spots/shelf", "shelf", false, "rename batch T1 T9", "T9")]
    [InlineData("spots/shelf", "shelf", true, "rename batch T1 T9", "T9")]
    [InlineData("seeds/lots/tom-24", "tom-24", false, "spot add second", "second")]
    [InlineData("seeds/lots/tom-24", "tom-24", true, "spot add second", "second")]
    public async Task A_name_is_taken_back_by_a_quick_hand(string path, string from, bool sooner, string meanwhile, string seen)
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.New(Display.Phone);
        var address = await HeldMessage.On(tab.Page, "OnLocationChanged", alone: sooner);
        await tab.GoTo($"{home.Address}/{path}");
        await tab.Page.Locator("summary", new() { HasText = "Rename" }).ClickAsync();
        await tab.Page.GetByLabel("Its name from now on").FillAsync("other");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save the name" }).ClickAsync();

        // Something else is written down meanwhile, and the page reads the home again.
        await Wait.For("the new address", address.IsHeld);
        await home.Do(meanwhile.Split(' '));
        await Expect(tab.Page.Locator("main")).ToContainTextAsync(seen);
        await Expect(tab.Page.GetByText($"{from} is called other from now on.")).ToBeVisibleAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        address.LetGo();

        await Expect(tab.Page.GetByText("Taken back.")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToContainTextAsync(from);
        await Expect(tab.Page).ToHaveURLAsync($"{home.Address}/{path}");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_whole_thing_is_taken_out_by_a_tap_and_brought_back()
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open($"{home.Address}/history/lot/tom-24", Display.Phone);
        await TakeOutFirstEntry(tab);
        await Expect(tab.Page.GetByText("rests on that")).ToBeVisibleAsync();

        await tab.GoTo($"{home.Address}/history/batch/T1");
        await TakeOutFirstEntry(tab);
        await Expect(tab.Page.GetByText("Taken back.")).ToBeVisibleAsync();
        Assert.DoesNotContain("T1", await home.Do("batches"), StringComparison.Ordinal);

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Button, new() { Name = "Take the entry back" })).ToBeVisibleAsync();
        Assert.Contains("T1", await home.Do("batches"), StringComparison.Ordinal);

        foreach (var (what, name, verb) in new[] { ("batch", "T1", "batches"), ("lot", "tom-24", "lots") })
        {
            await tab.GoTo($"{home.Address}/history/{what}/{name}");
            await TakeOutFirstEntry(tab);
            await Expect(tab.Page.GetByText("Taken back.")).ToBeVisibleAsync();
            Assert.DoesNotContain(name, await home.Do(verb), StringComparison.Ordinal);
        }

        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_spot_is_seen_by_any_letters_wherever_it_stands(int width, ColorScheme theme)
    {
        const string shown = "Küche <b>oben</b> & Öfchen 暖";
        await using var home = await OwnHome.Start(furnish: [.. Furnish, "read shelf 55C --sure"]);
        await using var tab = await chromium.Open(home.Address + "/spots/shelf", new(width, theme));
        await tab.Page.Locator("summary", new() { HasText = "Show it as" }).ClickAsync();
        await tab.Page.GetByLabel("What you call it").FillAsync(shown);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save what you call it" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = shown, Exact = true })).ToBeVisibleAsync();
        Assert.Contains($"shown as \"{shown}\"", await home.Do("history", "spot", "shelf"), StringComparison.Ordinal);

        await tab.GoTo(home.Address + "/");
        await Expect(tab.Page.GetByText($"Danger: 55.0 °C on {shown}").First).ToBeVisibleAsync();
        await Expect(tab.Page.Locator(".glance").GetByRole(AriaRole.Link, new() { Name = shown })).ToBeVisibleAsync();
        Assert.Equal(0, await tab.Page.Locator("main b").CountAsync());
        foreach (var page in (string[])["/spots", "/set-up/spots", "/set-up/probes", "/seeds/sow", "/batches/T1"])
        {
            await tab.GoTo(home.Address + page);
            Assert.Contains("Küche <b>oben</b>", await tab.Page.Locator("main").TextContentAsync(), StringComparison.Ordinal);
        }

        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Readings_are_left_out_and_an_entry_is_put_right(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: Furnish);
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", new(width, theme));
        await tab.Page.Locator("summary", new() { HasText = "More actions" }).ClickAsync();
        await tab.Page.Locator("summary", new() { HasText = "Leave readings out" }).ClickAsync();
        await tab.Page.GetByLabel("From", new() { Exact = true }).FillAsync("2026-02-01T08:00");
        await tab.Page.GetByLabel("Until", new() { Exact = true }).FillAsync("2026-02-01T12:00");
        await tab.Page.GetByLabel("Why").FillAsync("in the sun");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Leave them out" }).ClickAsync();
        await Expect(tab.Page.GetByText("Readings of p1 are left out.")).ToBeVisibleAsync();
        Assert.Contains("in the sun", await home.Do("history", "probe", "p1"), StringComparison.Ordinal);
        await tab.FitsEveryScreen("flow-left-out");

        await tab.GoTo(home.Address + "/history/batch/T1");
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "Entry" }).ClickAsync();
        await tab.Live();
        await tab.Page.GetByLabel("Seeds", new() { Exact = true }).FillAsync("14");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Save the correction" }).ClickAsync();
        await Expect(tab.Page.GetByText("14 seeds of tomato sown as T1")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-put-right");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Undo", Exact = true }).ClickAsync();
        await Expect(tab.Page.GetByText("12 seeds of tomato sown as T1")).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }

    // By the entry with which it began, the last of its history.
    private static async Task TakeOutFirstEntry(Tab tab)
    {
        await tab.Page.Locator("ul.history a").Last.ClickAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Take the entry back" }).ClickAsync();
    }
}
