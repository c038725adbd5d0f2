using System.Text.RegularExpressions;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>Phones and sensors are let in on the page and shut out again, without a file and without a restart.</summary>
public sealed partial class NetworkTests(Chromium chromium)
{
    [Fact]
    public async Task A_phone_and_a_sensor_get_in_by_what_the_page_made()
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf"]);
        await using var tab = await chromium.Open(home.Address + "/set-up/network", Display.Phone);
        await Expect(tab.Page.GetByText("Only this machine reaches Chamber.")).ToBeVisibleAsync();
        await tab.Unfold("Let your home network in");
        await tab.FitsEveryScreen("flow-network-shut");
        await tab.Page.GetByLabel("Your name").FillAsync("Ada");
        await tab.Page.GetByLabel("Password").FillAsync("four short words do");
        await tab.Page.Locator("summary", new() { HasText = "Other ports" }).ClickAsync();
        await tab.Page.GetByLabel("For phones").FillAsync($"{FreePort.Next()}");
        await tab.Page.GetByLabel("For sensors").FillAsync($"{FreePort.Next()}");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Let them in" }).ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Img, new() { Name = "QR code of https://" })).ToBeVisibleAsync();
        await tab.Page.GetByLabel("Name of the sensor").FillAsync("p1");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Make its password" }).ClickAsync();
        await Expect(tab.Page.GetByText("p1 is let in.")).ToBeVisibleAsync();
        await tab.FitsEveryScreen("flow-network-open");
        var page = await tab.Page.Locator("strong").Filter(new() { HasTextRegex = HomeAddress() }).InnerTextAsync();
        var broker = await Fact(tab, "MQTT broker");
        var password = await Fact(tab, "Password");

        // The address of the page leads a phone to the sign-in, encrypted.
        await using var phone = await chromium.New(Display.Phone);
        await phone.Page.GotoAsync(page + "/");
        await phone.Page.GetByLabel("Your name").FillAsync("Ada");
        await phone.Page.GetByLabel("Password").FillAsync("four short words do");
        await phone.Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Expect(phone.Page.GetByRole(AriaRole.Heading, new() { Name = "Today" })).ToBeVisibleAsync();

        Assert.NotEqual(0, (await Publish(broker, "p1", "a wrong one")).ExitCode);
        (await Publish(broker, "p1", password)).Succeeded();

        // It writes its own readings and no others.
        await Publish(broker, "p1", password, probe: "p2");
        var probes = await home.Do("probes");
        Assert.Contains("p1", probes, StringComparison.Ordinal);
        Assert.DoesNotContain("p2", probes, StringComparison.Ordinal);

        await phone.GoTo(page + "/set-up/network");
        await phone.Page.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await Expect(phone.Page.GetByText("p1 is removed.")).ToBeVisibleAsync();
        Assert.NotEqual(0, (await Publish(broker, "p1", password)).ExitCode);
        await phone.Page.GetByLabel("Name of the sensor").FillAsync("p1");
        await phone.Page.GetByRole(AriaRole.Button, new() { Name = "Make its password" }).ClickAsync();
        await Expect(phone.Page.GetByText("p1 is let in.")).ToBeVisibleAsync();
        password = await Fact(phone, "Password");
        (await Publish(broker, "p1", password)).Succeeded();
        await phone.Page.GetByRole(AriaRole.Button, new() { Name = "Shut them out" }).ClickAsync();
        await Wait.Until("the broker's address is shut",
            async () => (await Publish(broker, "p1", password)) is { ExitCode: not 0 } refused ? refused : null);
        Assert.Contains("p1", await home.Do("probes"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    private static Task<string> Fact(Tab tab, string name) =>
        tab.Page.Locator($"dt:text-is('{name}') + dd").InnerTextAsync();

    private static Task<ProgramResult> Publish(string broker, string user, string password, string probe = "p1") => RunningProgram.Run(
        "mosquitto_pub", ["-h", broker.Split(':')[0], "-p", broker.Split(':')[1], "-u", user, "-P", password, "-q", "1",
            "-V", "5", "-t", $"chamber/{probe}/reading", "-m", """{ "temperature": 21.5 }"""]);

    [GeneratedRegex("^https://[0-9.]+:[0-9]+$")]
    private static partial Regex HomeAddress();
}
