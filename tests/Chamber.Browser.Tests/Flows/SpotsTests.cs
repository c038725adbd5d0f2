using System.Text.RegularExpressions;
using Chamber.Browser.Tests.Rig;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Microsoft.Playwright;
using NodaTime;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Looking for the right spot, in homes of all sorts.</summary>
public sealed partial class SpotsTests(Chromium chromium, SampleHome sample)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task The_best_spot_for_a_crop_comes_first_with_its_score_then_its_caution(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(sample.Address + "/spots", new(width, theme));

        await Choose(tab, "basil");

        var first = tab.Page.GetByRole(AriaRole.Article).First;
        await Expect(first).ToContainTextAsync("Suits basil");
        await Expect(tab.Page.GetByText("Best for basil: thermostat-mat.")).ToBeVisibleAsync();
        var words = await first.InnerTextAsync();
        Assert.True(words.IndexOf("Suits basil", StringComparison.Ordinal) is >= 0 and var score
            && score < words.IndexOf("Caution", StringComparison.Ordinal), words);
        Assert.Contains("Sure:", words, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Two_spots_are_put_side_by_side(int width, ColorScheme theme)
    {
        await using var tab = await chromium.Open(sample.Address + "/spots?crop=tomato", new(width, theme));

        await tab.Page.GetByRole(AriaRole.Article, new() { Name = "plain-mat" }).GetByLabel("Compare").CheckAsync();
        await tab.Page.GetByRole(AriaRole.Article, new() { Name = "freezer-top" }).GetByLabel("Compare").CheckAsync();
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "Compare plain-mat, freezer-top" }).ClickAsync();

        await Expect(tab.Page.GetByRole(AriaRole.Columnheader)).ToHaveCountAsync(2);
        await Expect(tab.Page.GetByRole(AriaRole.Row, new() { NameRegex = HalfUp() })).ToHaveTextAsync(DaysOfBoth());
    }

    [Fact]
    public async Task Thirty_spots_with_long_names_fit_a_phone_and_a_dead_probe_is_marked()
    {
        await using var home = await OwnHome.Start(store =>
        {
            foreach (var i in Enumerable.Range(1, 29))
            {
                store.Ledger.SetUp.Save(new Spot(new($"a-shelf-above-the-old-boiler-in-the-back-room-{i:00}"),
                    i % 2 == 0 ? SpotKind.BoilerCupboard : SpotKind.Shelf, LightLevel.Dark, 2));
            }

            store.Ledger.SetUp.Save(new Spot(new("dead"), SpotKind.HeatMat, LightLevel.Bright, 1));
            store.Ledger.SetUp.Save(new ProbeEntry(new(new("silent-one"), Measurand.Media, Duration.FromHours(1))));
            store.Ledger.SetUp.Put(new("silent-one"), new("dead"), Instant.FromUtc(2026, 1, 1, 0, 0));
        });
        await home.Publish("silent-one",
            $$"""{"temperature": 21, "at": "{{TimeProvider.System.GetUtcNow().AddHours(-5):yyyy-MM-ddTHH:mm:ssZ}}"}""");
        await using var tab = await chromium.Open(home.Address + "/spots?crop=tomato", Display.Phone);

        await Expect(tab.Page.GetByRole(AriaRole.Article)).ToHaveCountAsync(30);
        await Expect(tab.Page.GetByRole(AriaRole.Article).First).ToContainTextAsync("Not enough readings to rate it for tomato");
        await Expect(tab.Page.GetByRole(AriaRole.Article, new() { Name = "dead" })).ToContainTextAsync("last heard");
        await tab.FitsEveryScreen("edge-thirty-spots");
        await tab.Page.GetByLabel("Find by name").FillAsync("room-1");
        await Expect(tab.Page.GetByRole(AriaRole.Article)).ToHaveCountAsync(10);
        await tab.Page.GetByLabel("Light").SelectOptionAsync("Bright");
        await Expect(tab.Page.GetByText("No spot is like that.")).ToBeVisibleAsync();
        await tab.Page.GetByLabel("Find by name").FillAsync("");
        await Expect(tab.Page.GetByRole(AriaRole.Article)).ToHaveCountAsync(1);
        await tab.GoTo(home.Address + "/set-up/spots");
        await tab.FitsEveryScreen("edge-thirty-spots-set-up");
    }

    [Fact]
    public async Task A_spot_page_shows_its_caution_first_and_charts_day_fortnight_and_year()
    {
        await using var tab = await chromium.Open(sample.Address + "/spots", Display.Phone);
        await tab.Page.GetByRole(AriaRole.Link, new() { Name = "thermostat-mat", Exact = true }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("thermostat-mat");
        var words = await tab.Page.Locator("main").InnerTextAsync();
        Assert.True(words.IndexOf("Caution", StringComparison.Ordinal) is >= 0 and var caution
            && caution < words.IndexOf("°C", StringComparison.Ordinal), words);

        await Choose(tab, "basil");
        await Expect(tab.Page.GetByText("Suits basil")).ToBeVisibleAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Img, new() { NameRegex = new("last day.*ideal for basil") })).ToBeVisibleAsync();
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Year" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Img, new() { NameRegex = new("in the last year") })).ToBeVisibleAsync();
        await tab.ChartsAreDrawn();
        await tab.Picture("flow-spot-year");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task An_alert_leads_to_its_spot_page_where_it_stands_before_the_numbers()
    {
        await using var tab = await chromium.Open(sample.Address, Display.Phone);
        var link = tab.Page.Locator("article.todo a[href^='spots/']").First;
        var spot = await link.InnerTextAsync();

        await link.ClickAsync();

        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync(spot);
        await Expect(tab.Page.Locator("main section.card").First).ToContainTextAsync("Record it on Today");
        await tab.Picture("flow-spot-of-an-alert");
    }

    private static async Task Choose(Tab tab, string crop)
    {
        await tab.Page.GetByLabel("Which crop?").FillAsync(crop);
        await tab.Page.Keyboard.PressAsync("Enter");
    }

    [GeneratedRegex("^Half up, days")]
    private static partial Regex HalfUp();

    [GeneratedRegex(@"^\s*Half up, days(\s*([0-9.]+|never)){2}\s*$")]
    private static partial Regex DaysOfBoth();
}
