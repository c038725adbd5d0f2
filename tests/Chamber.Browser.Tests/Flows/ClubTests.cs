using System.Globalization;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>A club of two homes, as processes: its members come in by links and use the pages of a home under the home's address.</summary>
public sealed class ClubTests(Chromium chromium)
{
    private const string Password = "four short words here";

    private static string Program => SourceTree.Path("artifacts", "bin", "Chamber.Club", SourceTree.Configuration, "chamber-club");

    [Fact]
    public async Task Two_homes_by_one_sign_in_and_a_guest_who_looks_until_removed()
    {
        await using var server = await PostgreSql.Start();
        var database = await server.MakeDatabase();
        await Run("home", "add", "mill-lane-4", "--database", database);
        await Run("home", "add", "weir-house", "--database", database);
        var port = FreePort.Next().ToString(CultureInfo.InvariantCulture);
        var address = $"http://127.0.0.1:{port}";
        await using var pages = RunningProgram.Start(Program, ["page", "--port", port, "--database", database]);
        await pages.Line("The pages of the club are at");
        await using var ana = await chromium.New(Display.Phone);

        await ComeIn(ana, await Invite("mill-lane-4"), "Ana");
        await ana.Page.GotoAsync(await Invite("weir-house"));
        await ana.Page.GetByRole(AriaRole.Button, new() { Name = "Come in as Ana" }).ClickAsync();
        await ana.Live();
        await ana.Page.GetByRole(AriaRole.Link, new() { Name = "My homes" }).ClickAsync();
        Assert.Empty(await ana.Barriers());
        Assert.Empty(await ana.SticksOut());
        await ana.Picture("club-my-homes");
        await ana.Page.GetByRole(AriaRole.Link, new() { Name = "mill-lane-4" }).ClickAsync();
        await ana.Live();

        // Written in one home by the page's own buttons, on the live connection.
        await Put(ana, "api/spots/shelf", "PUT", "{}");
        await Put(ana, "api/batches", "POST", """{ "crop": "tomato", "seeds": 12, "spot": "shelf", "name": "T1" }""");
        await ana.GoTo($"{address}/homes/mill-lane-4/batches/T1");
        await ana.Page.GetByRole(AriaRole.Group, new() { Name = "How many are up" }).GetByRole(AriaRole.Button).Nth(1).ClickAsync();
        await Expect(ana.Page.GetByText("Written down. T1:")).ToBeVisibleAsync();
        await ana.Picture("club-batch");
        Assert.Equal("[]", await ana.Page.EvaluateAsync<string>(
            "async () => JSON.stringify(await (await fetch('/homes/weir-house/api/batches')).json())"));

        await ana.Page.GotoAsync($"{address}/people/mill-lane-4");
        Assert.Empty(await ana.Barriers());
        Assert.Empty(await ana.SticksOut());
        await ana.Page.GetByLabel("For whom?").FillAsync("the neighbour");
        await ana.Page.GetByLabel("As what?").SelectOptionAsync("guest");
        await ana.Page.GetByRole(AriaRole.Button, new() { Name = "Make a link" }).ClickAsync();
        var link = await ana.Page.Locator("code").Filter(new() { HasText = "/invitation/" }).InnerTextAsync();

        await using var gil = await chromium.New(Display.Laptop);
        await ComeIn(gil, link, "Gil");
        await gil.GoTo($"{address}/homes/mill-lane-4/batches/T1");
        await Expect(gil.Page.GetByRole(AriaRole.Group, new() { Name = "How many are up" })).ToHaveCountAsync(0);
        Assert.Equal(403, await Put(gil, "api/spots/attic", "PUT", "{}"));
        await gil.Page.GotoAsync($"{address}/homes/weir-house/");
        await Expect(gil.Page.GetByRole(AriaRole.Heading, new() { Name = "There is no such page" })).ToBeVisibleAsync();

        // The page that the guest has open shuts by itself, and opens no more.
        await gil.GoTo($"{address}/homes/mill-lane-4/spots");
        await ana.Page.GotoAsync($"{address}/people/mill-lane-4");
        await ana.Page.GetByRole(AriaRole.Button, new() { Name = "Remove Gil" }).ClickAsync();
        await Expect(gil.Page.GetByRole(AriaRole.Heading, new() { Name = "You are signed out" })).ToBeVisibleAsync();
        await gil.Page.GotoAsync($"{address}/homes/mill-lane-4/");
        await Expect(gil.Page.GetByRole(AriaRole.Heading, new() { Name = "There is no such page" })).ToBeVisibleAsync();

        async Task<string> Invite(string home) =>
            (await Run("invite", "Ana", "--home", home, "--page", address, "--database", database)).Trim();
    }

    private static async Task ComeIn(Tab tab, string link, string name)
    {
        await tab.Page.GotoAsync(link);
        Assert.Empty(await tab.Barriers());
        await tab.Page.GetByLabel("Choose a name").FillAsync(name);
        await tab.Page.GetByLabel("Choose a password").FillAsync(Password);
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Come in" }).ClickAsync();
        await tab.Live();
    }

    private static async Task<string> Run(params string[] arguments) => (await RunningProgram.Run(Program, arguments)).Succeeded();

    private static Task<int> Put(Tab tab, string path, string method, string body) => tab.Page.EvaluateAsync<int>(
        """
        async ([path, method, body]) =>
            (await fetch(path, { method, body, headers: { 'Content-Type': 'application/json' } })).status
        """, new[] { path, method, body });
}
