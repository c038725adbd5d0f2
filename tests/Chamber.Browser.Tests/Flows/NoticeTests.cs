using System.Net;
using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>How people are told, set up on the page, with a real mail server and a real receiver of posts.</summary>
public sealed class NoticeTests(Chromium chromium)
{
    private const string Password = "wet seed, warm feet";

    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task Mail_is_set_up_tested_and_turned_off_and_the_password_is_never_shown(int width,
        ColorScheme theme)
    {
        await using var mail = MailServer.Start(Password);
        await using var home = await OwnHome.Start();
        await using var tab = await chromium.Open(home.Address + "/set-up/notices", new(width, theme));
        var page = tab.Page;
        await Expect(page.GetByText("No alerts are being sent.")).ToBeVisibleAsync();

        await page.GetByText("By e-mail").ClickAsync();
        await page.GetByLabel("Who is notified?").FillAsync("you@example.org, flatmate@example.org");
        await Press(tab, "Next");
        await page.GetByLabel("Mail server").FillAsync("127.0.0.1");
        await Press(tab, "Next");
        await tab.Picture("flow-mail-port");
        await page.GetByLabel("another").CheckAsync();
        await page.GetByLabel("Port", new() { Exact = true }).FillAsync($"{mail.Port}");
        await page.GetByLabel("Protected by").SelectOptionAsync("WhenOffered");
        await Press(tab, "Next");
        await page.GetByLabel("User").FillAsync("grower@example.org");
        await page.GetByLabel("Password").FillAsync("not this one");
        await Press(tab, "Next");
        await Expect(page.GetByLabel("Sent from")).ToHaveValueAsync("grower@example.org");
        await page.GetByLabel("Sent from").FillAsync("chamber@example.org");
        await Press(tab, "Save and send a test");
        await Expect(Said(tab, "By e-mail"))
            .ToContainTextAsync("Saved, but the test failed. The mail server 127.0.0.1 did not accept the user and password");
        await Expect(page.GetByText("The last test failed.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Alerts go out by")).ToHaveCountAsync(0);
        await tab.Picture("flow-mail-refused");
        await page.GetByLabel("Password").FillAsync(Password);
        await Press(tab, "Save and send a test");

        await Expect(Said(tab, "By e-mail")).ToHaveTextAsync("Saved. The test was accepted.");
        Assert.Equal(["you@example.org", "flatmate@example.org"], (await mail.Next()).To.Mailboxes.Select(box => box.Address));
        await Expect(page.GetByLabel("Password")).ToHaveValueAsync("");
        Assert.DoesNotContain(Password, await page.ContentAsync(), StringComparison.Ordinal);
        Assert.Empty(await tab.Barriers());

        // An alert goes the new way at once, with the password that was kept.
        await home.Do("spot", "add", "mat", "--kind", "heat-mat");
        await home.Do("read", "mat", "55C", "--sure");
        Assert.StartsWith("Danger", (await mail.Next()).Subject, StringComparison.Ordinal);

        await page.ReloadAsync();
        await tab.Live();
        await Expect(page.GetByText("(kept; leave empty to go on with it)")).ToBeVisibleAsync();
        await page.GetByLabel("Mail server").FillAsync("localhost");
        await Press(tab, "Save and send a test");
        await Expect(Said(tab, "By e-mail")).ToContainTextAsync("Type the password again");
        await Press(tab, "Turn it off");
        await Expect(page.GetByText("No alerts are being sent.")).ToBeVisibleAsync();
        Assert.Contains("No channel is set up", await home.Do("notices"), StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task Setting_up_a_webhook_and_hours_leaves_the_other_settings_alone()
    {
        using var peer = new HttpListener();
        var port = FreePort.Next();
        peer.Prefixes.Add($"http://127.0.0.1:{port}/");
        peer.Start();
        await using var home = await OwnHome.StartWith(""", "units": "F" /* grandmother's */""");
        await using var tab = await chromium.Open(home.Address + "/set-up/notices", Display.Laptop);
        var page = tab.Page;

        await page.GetByText("By webhook").ClickAsync();
        await page.GetByLabel("Web address").FillAsync($"http://127.0.0.1:{port}/chamber");
        await page.GetByLabel("Secret").FillAsync("sixteen characters");
        await Press(tab, "Save and send a test");
        var call = await Wait.For("a call of the webhook", peer.GetContextAsync());
        Assert.NotNull(call.Request.Headers["Signature"]);
        call.Response.StatusCode = 204;
        call.Response.Close();
        await Expect(Said(tab, "By webhook")).ToHaveTextAsync("Saved. The test was accepted.");

        await tab.Unfold("When and what");
        await page.GetByLabel("A digest once a day").CheckAsync();
        await page.GetByLabel("At what hour?").FillAsync("08:15");
        await page.GetByLabel("Quiet hours").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await Expect(page.GetByText("Saved, from now on.")).ToBeVisibleAsync();

        await tab.Picture("flow-notices-set");
        var settings = await File.ReadAllTextAsync(Path.Combine(home.DataDirectory, "chamber.json"), TestContext.Current.CancellationToken);
        Assert.Contains("\"units\": \"F\", /* grandmother's */", settings, StringComparison.Ordinal);
        Assert.Contains("08:15", settings, StringComparison.Ordinal);
        Assert.DoesNotContain("sixteen characters", settings, StringComparison.Ordinal);
        Assert.Empty(tab.Problems);
    }

    private static ILocator Part(Tab tab, string heading) =>
        tab.Page.GetByRole(AriaRole.Group).Filter(new() { Has = tab.Page.GetByRole(AriaRole.Heading, new() { Name = heading }) });

    private static ILocator Said(Tab tab, string heading) => Part(tab, heading).GetByRole(AriaRole.Status);

    private static Task Press(Tab tab, string name) =>
        tab.Page.GetByRole(AriaRole.Button, new() { Name = name }).Filter(new() { Visible = true }).ClickAsync();
}
