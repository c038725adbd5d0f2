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
    [InlineData("batch", "/batches/T1")]
    [InlineData("nowhere", "/not-found")]
    public async Task It_can_be_read_by_everybody_fits_the_screen_and_is_quiet(string name, string path)
    {
        await using var tab = await chromium.Open(home.Address + path, new(Display.Widths[0], theme));
        foreach (var width in Display.Widths)
        {
            await tab.Resize(new(width, theme));
            await tab.Picture(name);
            Assert.Empty(await tab.SticksOut());
            Assert.Empty(await tab.Barriers());
        }

        Assert.Empty(tab.Problems);
    }
}

public sealed class EveryPageByDay(Chromium chromium, SampleHome home) : EveryPage(chromium, home, ColorScheme.Light);

public sealed class EveryPageByNight(Chromium chromium, SampleHome home) : EveryPage(chromium, home, ColorScheme.Dark);
