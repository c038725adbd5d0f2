namespace Chamber.Browser.Tests.Rig;

/// <summary>The checks that every page must pass must themselves be able to fail.</summary>
public sealed class TabTests(Chromium chromium, SampleHome home)
{
    [Fact]
    public async Task A_barrier_a_sideways_scroll_and_a_console_error_are_found()
    {
        await using var tab = await chromium.Open(home.Address + "/not-found", Display.Phone);
        Assert.Empty(await tab.Barriers());
        Assert.Empty(await tab.SticksOut());

        await tab.Page.EvaluateAsync("""
            () => {
                document.querySelector('main').insertAdjacentHTML('beforeend', '<div style="width:900px">wide</div><input><p style="color:#ccc;background:#fff">pale</p>');
                console.error('broken');
            }
            """);

        Assert.Contains(await tab.SticksOut(), line => line.Contains("wide", StringComparison.Ordinal));
        var barriers = await tab.Barriers();
        Assert.Contains(barriers, line => line.StartsWith("label:", StringComparison.Ordinal));
        Assert.Contains(barriers, line => line.StartsWith("color-contrast:", StringComparison.Ordinal));
        Assert.Contains("broken", tab.Problems);
    }

    [Fact]
    public async Task A_script_in_the_page_is_not_run()
    {
        await using var tab = await chromium.Open(home.Address + "/not-found", Display.Phone);

        await tab.Page.EvaluateAsync("""
            () => { const script = document.createElement('script'); script.textContent = 'window.ran = true'; document.body.append(script); }
            """);

        Assert.False(await tab.Page.EvaluateAsync<bool>("() => window.ran === true"));
        Assert.Contains(tab.Problems, line => line.Contains("Content Security Policy", StringComparison.Ordinal));
    }
}
