using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests;

/// <summary>
/// Every page of the sample home on a phone, a tablet and a laptop. The accessibility checker is axe-core (Deque Systems),
/// run with its rules for WCAG 2.2 AA.
/// </summary>
public abstract class EveryPage(Chromium chromium, SampleHome home, ColorScheme theme)
{
    [Theory]
    [InlineData("today", "/")]
    [InlineData("spots", "/spots")]
    [InlineData("batches", "/batches")]
    [InlineData("hindsight", "/batches/hindsight")]
    [InlineData("compare", "/batches/compare?first=T1&second=B1")]
    [InlineData("season", "/batches/season")]
    [InlineData("batch", "/batches/T1")]
    [InlineData("seeds", "/seeds")]
    [InlineData("lot", "/seeds/lots/tomato-own")]
    [InlineData("add-lot", "/seeds/add")]
    [InlineData("sow", "/seeds/sow?lot=tomato-own&spot=thermostat-mat")]
    [InlineData("plan", "/seeds/plan")]
    [InlineData("spots-for-basil", "/spots?crop=basil")]
    [InlineData("spot", "/spots/plain-mat")]
    [InlineData("spot-for-a-crop", "/spots/boiler-cupboard?crop=basil")]
    [InlineData("side-by-side", "/spots/compare?spot=plain-mat&spot=sunny-sill&spot=boiler-cupboard&crop=basil")]
    [InlineData("spots-for-crops", "/spots/crops")]
    [InlineData("place", "/spots/place?sow=tomato:2&sow=lettuce:1")]
    [InlineData("set-up", "/set-up")]
    [InlineData("set-up-start", "/set-up/start")]
    [InlineData("set-up-probes", "/set-up/probes")]
    [InlineData("set-up-read", "/set-up/read")]
    [InlineData("set-up-spots", "/set-up/spots")]
    [InlineData("set-up-crops", "/set-up/crops")]
    [InlineData("set-up-notices", "/set-up/notices")]
    [InlineData("set-up-people", "/set-up/people")]
    [InlineData("set-up-safekeeping", "/set-up/safekeeping")]
    [InlineData("set-up-about", "/set-up/about")]
    [InlineData("nowhere", "/not-found")]
    public async Task It_can_be_read_by_everybody_fits_the_screen_and_is_quiet(string name, string path)
    {
        await using var tab = await chromium.Open(home.Address + path, new(Display.Widths[0], theme));
        foreach (var width in Display.Widths)
        {
            await tab.Resize(new(width, theme));
            await tab.ChartsAreDrawn();
            await tab.Picture(name);
            Assert.Empty(await tab.SticksOut());
            Assert.Empty(await tab.Barriers());
        }

        Assert.Empty(tab.Problems);
    }
}

public sealed class EveryPageByDay(Chromium chromium, SampleHome home) : EveryPage(chromium, home, ColorScheme.Light);

public sealed class EveryPageByNight(Chromium chromium, SampleHome home) : EveryPage(chromium, home, ColorScheme.Dark);
