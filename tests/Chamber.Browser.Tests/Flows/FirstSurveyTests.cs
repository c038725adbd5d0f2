using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>A newcomer, from an empty home to a first survey, without a file being edited.</summary>
public sealed class FirstSurveyTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_newcomer_with_a_sensor_has_a_survey_running_after_three_steps(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/spots", new(width, theme));
        var page = tab.Page;

        await page.GetByRole(AriaRole.Link, new() { Name = "Set up the first" }).ClickAsync();
        await page.GetByLabel("What do you call it?").FillAsync("on the dryer");
        await page.GetByLabel("appliance top").CheckAsync();
        await Expect(page.GetByText("never cover the vents")).ToBeVisibleAsync();
        await page.GetByLabel("dim", new() { Exact = true }).CheckAsync();
        await tab.Picture("flow-first-spot");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the spot" }).ClickAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "A sensor that reports on its own" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).ClickAsync();
        await Expect(page.GetByText("Listening. Nothing has spoken yet")).ToBeVisibleAsync();
        await home.Publish("kitchen-1", """{"temperature": 24.5, "humidity": 50}""");
        await tab.Picture("flow-first-listening");
        await page.GetByRole(AriaRole.Button, new() { Name = "kitchen-1" }).ClickAsync();
        await page.GetByLabel("In the mix or towel").CheckAsync();
        await Expect(page.GetByLabel("On which spot does it stand?")).ToHaveValueAsync("on-the-dryer");
        await tab.Picture("flow-first-probe");
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the probe" }).ClickAsync();

        await Expect(page.GetByText("The survey of on-the-dryer has begun.")).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "See the spot" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("on-the-dryer");
        await Expect(page.Locator("main")).ToContainTextAsync("24.5 °C");
        await Expect(page.GetByText("The survey has begun")).ToBeVisibleAsync();
        Assert.Contains("media", await home.Do("probes", "--json"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_newcomer_without_any_sensor_types_in_a_thermometer(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/start", new(width, theme));
        var page = tab.Page;

        await page.GetByLabel("What do you call it?").FillAsync("boiler cupboard");
        await page.GetByLabel("boiler cupboard", new() { Exact = true }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the spot" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "A thermometer that you read" }).ClickAsync();
        await page.GetByLabel("What does it say?").FillAsync("70");
        await page.GetByLabel("In the air").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();

        // 70 °C is no place to keep seed; the page asks for the unit and not for a confirmation.
        await Expect(page.Locator("form").GetByRole(AriaRole.Status)).ToContainTextAsync("70C looks like °F");
        await page.GetByLabel("70 °F, that is 21 °C").CheckAsync();
        await tab.Picture("flow-first-unit");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();

        await Expect(page.GetByText("The survey of boiler-cupboard has begun.")).ToBeVisibleAsync();
        Assert.Contains("21.1", await home.Do("spots"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_sensor_sending_Fahrenheit_is_asked_about_once_and_then_believed(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf --kind shelf");
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", new(width, theme));
        var page = tab.Page;

        await page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).ClickAsync();
        await home.Publish("attic", """{"temperature": 71.6}""");
        await page.GetByRole(AriaRole.Button, new() { Name = "attic" }).ClickAsync();
        await page.GetByLabel("71.6 °F").CheckAsync();
        await page.GetByLabel("In the air").CheckAsync();
        await page.GetByLabel("On which spot does it stand?").SelectOptionAsync("shelf");
        await tab.Picture("flow-unit");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the probe" }).ClickAsync();
        await Expect(page.GetByText("attic is added and stands on shelf.")).ToBeVisibleAsync();

        await home.Publish("attic", """{"temperature": 73.4}""");

        await Expect(page.GetByRole(AriaRole.Article).Filter(new() { HasText = "attic" })).ToContainTextAsync("23 °C");
    }

    [Fact]
    public async Task Leaving_the_walk_loses_nothing_and_Back_goes_back()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/start", Display.Phone);
        var page = tab.Page;
        await page.GetByLabel("What do you call it?").FillAsync("linen shelf");
        await page.GetByLabel("shelf", new() { Exact = true }).CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Add the spot" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "A thermometer that you read" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "What does the thermometer say?" })).ToBeVisibleAsync();

        await page.GoBackAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "How will you measure there?" })).ToBeVisibleAsync();

        await tab.GoTo(home.Address + "/set-up/start");
        await Expect(page.GetByText("linen-shelf is not measured yet.")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-first-again");
        await page.GetByRole(AriaRole.Link, new() { Name = "Go on with linen-shelf" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "How will you measure there?" })).ToBeVisibleAsync();
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task A_comma_and_a_unit_are_read_999_is_refused_and_72_is_asked()
    {
        await using var home = await OwnHome.Start(furnish: "spot add shelf");
        await using var tab = await chromium.Open(home.Address + "/set-up/read", Display.Phone);
        var page = tab.Page;
        await page.GetByLabel("In the mix or towel").CheckAsync();
        await page.GetByLabel("What does it say?").FillAsync("999");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.Locator("form").GetByRole(AriaRole.Status)).ToContainTextAsync("999C");
        await Expect(page.GetByText("Which does it show?")).ToHaveCountAsync(0);

        await page.GetByLabel("What does it say?").FillAsync("72");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.Locator("form").GetByRole(AriaRole.Status)).ToContainTextAsync("72C looks like °F");
        await page.GetByLabel("72 °F, that is 22 °C").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(page.GetByText("22.2 °C on shelf at")).ToBeVisibleAsync();
        await Expect(page.GetByText("Which does it show?")).ToHaveCountAsync(0);

        await page.GetByLabel("What does it say?").FillAsync("22,5 C");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();

        await Expect(page.GetByText("22.5 °C on shelf at")).ToBeVisibleAsync();
        Assert.Contains("media", await home.Do("probes", "--json"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task What_speaks_and_cannot_be_read_is_shown_with_its_fix()
    {
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/probes", Display.Phone);

        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Listen", Exact = true }).ClickAsync();
        await home.Publish("attic", "twenty degrees");

        await Expect(tab.Page.GetByText("Something spoke on chamber/attic/reading")).ToBeVisibleAsync();
    }
}
