using Chamber.Browser.Tests.Rig;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests;

/// <summary>The pictures that README and docs/page.md show, each as a screen shows it; eng/page-pictures puts them there.</summary>
public sealed class PicturesForDocuments(Chromium chromium, SampleHome home)
{
    [Theory]
    [InlineData("page-today", "/", 360, false)]
    [InlineData("page-spots", "/spots?crop=basil", 1280, false)]
    [InlineData("page-start", "/set-up/start", 768, false)]
    [InlineData("page-dark", "/spots?crop=basil", 360, true)]
    public async Task A_page_of_the_demo_looks_like_this(string name, string path, int width, bool dark)
    {
        await using var tab = await chromium.Open(home.Address + path, new(width, dark ? ColorScheme.Dark : ColorScheme.Light));
        await tab.ChartsAreDrawn();

        await tab.Picture(name, whole: false);

        Assert.Empty(tab.Problems);
    }
}
