using Chamber.Browser.Tests.Rig;
using Chamber.Testing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>The page on another address than the loopback one: over TLS, behind a sign-in, with guests who may look.</summary>
public sealed class AccessTests(Chromium chromium)
{
    private const string Password = "four short words here";

    [Fact]
    public async Task The_first_person_signs_up_by_code_and_a_guest_looks_until_revoked()
    {
        await using var home = await OwnHome.Start(OwnAddress.Find(), "spot add shelf");
        var code = (await home.Console.Line("sign up with the code")).Split("sign up with the code ")[1][..8];
        await using var owner = await chromium.New(Display.Phone);

        await owner.Page.GotoAsync(home.Address + "/spots");
        await Expect(owner.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign up" })).ToBeVisibleAsync();
        await owner.Picture("flow-sign-up");
        Assert.Empty(await owner.Barriers());
        await owner.Page.GetByLabel("Code from the console").FillAsync(code);
        await owner.Page.GetByLabel("Your name").FillAsync("Ada");
        await owner.Page.GetByLabel("Password").FillAsync(Password);
        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Sign up" }).ClickAsync();
        await owner.Live();
        await Expect(owner.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToBeVisibleAsync();

        await owner.GoTo(home.Address + "/set-up/people");
        await owner.Unfold("Guests");
        await owner.Page.GetByLabel("For whom?").FillAsync("the neighbour");
        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Make a link" }).ClickAsync();
        var link = await owner.Page.GetByLabel("Hand this over").InputValueAsync();

        await using var guest = await chromium.Open(link, Display.Phone);
        await guest.GoTo(home.Address + "/spots");
        await Expect(guest.Page.GetByRole(AriaRole.Article, new() { Name = "shelf" })).ToBeVisibleAsync();
        await guest.Page.GotoAsync(home.Address + "/set-up/people");
        await Expect(guest.Page.GetByText("You may look here and change nothing")).ToBeVisibleAsync();
        await guest.GoTo(home.Address + "/spots");

        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Revoke" }).ClickAsync();
        await Expect(owner.Page.GetByText("the neighbour since")).ToBeHiddenAsync();

        // The page that the guest has open shuts by itself, and opens no more.
        await Expect(guest.Page.GetByRole(AriaRole.Heading, new() { Name = "You are signed out" })).ToBeVisibleAsync();
        await Expect(guest.Page.GetByRole(AriaRole.Article)).ToHaveCountAsync(0);
        await guest.Page.GotoAsync(home.Address + "/spots");
        await Expect(guest.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in" })).ToBeVisibleAsync();

        await owner.Page.GetByRole(AriaRole.Link, new() { Name = "Sign out" }).ClickAsync();
        await owner.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await Expect(owner.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in" })).ToBeVisibleAsync();
        await owner.Page.GotoAsync(home.Address + "/spots");
        await Expect(owner.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in" })).ToBeVisibleAsync();
    }
}
