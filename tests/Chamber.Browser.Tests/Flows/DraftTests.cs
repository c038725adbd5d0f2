using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What is typed and not sent survives leaving the page; what was sent, and passwords, do not come back.</summary>
public sealed class DraftTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_half_typed_form_is_there_again(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf"]);
        await using var tab = await chromium.Open(home.Address + "/seeds/add", new(width, theme));
        await tab.Page.GetByLabel("Short name").FillAsync("grandmother");
        await tab.Page.Locator("main a[href=seeds]").First.ClickAsync();
        await Expect(tab.Page.GetByRole(AriaRole.Heading, new() { Name = "Seeds", Exact = true })).ToBeVisibleAsync();
        await tab.Page.GoBackAsync();
        await Expect(tab.Page.GetByLabel("Short name")).ToHaveValueAsync("grandmother");
        await tab.GoTo(home.Address + "/seeds/add");
        await Expect(tab.Page.GetByLabel("Short name")).ToHaveValueAsync("grandmother");
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task What_was_sent_and_passwords_do_not_come_back()
    {
        await using var home = await OwnHome.Start(furnish: ["spot add shelf"]);
        await using var tab = await chromium.Open(home.Address + "/set-up/people", Display.Phone);
        await tab.Unfold("People");
        await tab.Page.GetByLabel("Password").FillAsync("four short words do");
        await tab.Unfold("Guests");
        await tab.Page.GetByLabel("For whom?").FillAsync("the neighbour");
        await tab.Page.GetByRole(AriaRole.Button, new() { Name = "Make a link" }).ClickAsync();
        await Expect(tab.Page.GetByLabel("Hand this over")).ToBeVisibleAsync();
        Assert.DoesNotContain("four short", await tab.Page.EvaluateAsync<string>("() => JSON.stringify(sessionStorage)"),
            StringComparison.Ordinal);
        await tab.GoTo(home.Address + "/set-up/people");
        await Expect(tab.Page.GetByLabel("For whom?")).ToHaveValueAsync("");
        await Expect(tab.Page.GetByLabel("Password")).ToHaveValueAsync("");
    }
}
