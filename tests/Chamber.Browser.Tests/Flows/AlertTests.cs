using Chamber.Browser.Tests.Rig;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Microsoft.Playwright;
using NodaTime;
using static Microsoft.Playwright.Assertions;

namespace Chamber.Browser.Tests.Flows;

/// <summary>What is wrong, on Today: what to do first, then the taps.</summary>
public sealed class AlertTests(Chromium chromium)
{
    [Theory]
    [MemberData(nameof(Display.Three), MemberType = typeof(Display))]
    public async Task A_danger_shows_by_itself_with_what_to_do_is_seen_and_kept_quiet(int width, ColorScheme theme)
    {
        await using var home = await OwnHome.Start(furnish: "spot add mat --kind heat-mat");
        await using var tab = await chromium.Open(home.Address, new(width, theme));
        var page = tab.Page;

        await home.Do("read", "mat", "55C", "--sure");
        var danger = page.GetByRole(AriaRole.Article).Filter(new() { HasText = "Danger: 55.0 °C on mat" });
        await Expect(danger).ToContainTextAsync("Unplug what heats it");
        await danger.GetByRole(AriaRole.Button, new() { Name = "Got it" }).ClickAsync();
        await Expect(danger.GetByRole(AriaRole.Button, new() { Name = "Got it" })).ToBeHiddenAsync();
        await Expect(danger).ToContainTextAsync("Seen by somebody at the page");
        await danger.GetByText("More actions").ClickAsync();
        await danger.GetByRole(AriaRole.Button, new() { Name = "Snooze 2 h" }).ClickAsync();
        await Expect(page.GetByText("Written down.")).ToBeVisibleAsync();
        await Expect(page.GetByText("Nothing else needs a hand.")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Listitem).Filter(new() { HasText = "Danger: 55.0 °C on mat" }))
            .ToContainTextAsync("Snoozed until");

        await tab.FitsEveryScreen("flow-danger");
        Assert.Contains("muted", await home.Do("alerts", "--json"), StringComparison.OrdinalIgnoreCase);
        Assert.Empty(tab.Problems);
    }

    [Fact]
    public async Task Today_and_spot_show_a_dead_probe_without_a_current_temperature()
    {
        await using var home = await OwnHome.Start(store =>
        {
            var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
            var (spot, probe) = (new SpotId("shelf"), new ProbeId("p1"));
            store.Ledger.SetUp.Save(new Spot(spot, SpotKind.Shelf, LightLevel.Dim, 2));
            store.Ledger.SetUp.Save(new ProbeEntry(new(probe, Measurand.Media, Duration.FromHours(1))));
            store.Ledger.SetUp.Put(probe, spot, now - Duration.FromDays(9));
            store.Journal.Append(
                [.. Enumerable.Range(0, 8 * 48).Select(i => now - Duration.FromDays(9) + Duration.FromMinutes(30 * i)).Select(at =>
                    new Reading(probe, at, at, Temperature.FromCelsius(22), null, null, null, ClockSource.Payload))],
                []);
        });
        await using var tab = await chromium.Open(home.Address, Display.Phone);
        await Expect(tab.Page.GetByRole(AriaRole.Article).Filter(new() { HasText = "Nothing heard from p1" })).ToBeVisibleAsync();
        await tab.FitsEveryScreen("edge-dead-probe-today");

        await tab.GoTo(home.Address + "/spots/shelf");
        await Expect(tab.Page.Locator("main")).ToContainTextAsync("Nothing heard from p1");
        await Expect(tab.Page.Locator("main")).ToContainTextAsync("last heard");
        await tab.FitsEveryScreen("edge-dead-probe-spot");
        Assert.Empty(tab.Problems);
    }
}
