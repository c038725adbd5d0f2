using Chamber.Testing;
using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Chamber.Browser.Tests.Rig;

/// <summary>A browser tab of one person, which keeps what the console said.</summary>
public sealed class Tab : IAsyncDisposable
{
    // The rules of WCAG 2.2 AA, and what the checker's authors advise beyond them.
    private static readonly string[] Rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

    private const int SwipeSteps = 20;

    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    private readonly IBrowserContext context;
    private readonly IDisposable? with;
    private readonly List<string> problems = [];
    private Display display;

    private Tab(IBrowserContext context, IPage page, Display display, IDisposable? with)
    {
        this.context = context;
        this.with = with;
        this.display = display;
        Page = page;
        page.Console += (_, message) =>
        {
            if (message.Type is "error" or "warning")
            {
                problems.Add(message.Text);
            }
        };
        page.PageError += (_, error) => problems.Add(error);
    }

    public IPage Page { get; }

    /// <summary>Errors and warnings of the browser's console so far.</summary>
    public IReadOnlyList<string> Problems => problems;

    public static async Task<Tab> New(IBrowser browser, Display display)
    {
        var context = await browser.NewContextAsync(new()
        {
            ViewportSize = display.Viewport,
            ColorScheme = display.Theme,
            HasTouch = display.Width < 500,
            ReducedMotion = ReducedMotion.Reduce,
            IgnoreHTTPSErrors = true,
        });
        return await In(context, display);
    }

    /// <param name="context">What the tab is a tab of; goes with it.</param>
    /// <param name="display">Its screen.</param>
    /// <param name="with">What else goes with it.</param>
    public static async Task<Tab> In(IBrowserContext context, Display display, IDisposable? with = null)
    {
        context.SetDefaultTimeout((float)RunningProgram.Patience.TotalMilliseconds);
        Assertions.SetDefaultExpectTimeout((float)RunningProgram.Patience.TotalMilliseconds);
        return new(context, await context.NewPageAsync(), display, with);
    }

    /// <summary>Opens an address and waits until the page is live, so that a click is heard.</summary>
    public async Task GoTo(string address)
    {
        await Page.GotoAsync(address);
        await Live();
    }

    /// <summary>The same page on another screen, or at another time of day.</summary>
    public async Task Resize(Display other)
    {
        if (other.Theme != display.Theme)
        {
            await Page.EmulateMediaAsync(new() { ColorScheme = other.Theme });
        }

        display = other;
        await Page.SetViewportSizeAsync(other.Viewport.Width, other.Viewport.Height);

        // Charts are drawn again with the next frame.
        await Page.EvaluateAsync("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))");
    }

    /// <summary>Looks at what the page shows now on every screen, by day and by night: nothing may stick out, nobody may be shut
    /// out.</summary>
    /// <param name="name">Keeps pictures under this name; null for none.</param>
    public async Task FitsEveryScreen(string? name = null)
    {
        var before = display;
        var found = new List<string>();
        foreach (var screen in Display.All)
        {
            await Resize(screen);
            await ChartsAreDrawn();
            if (name is not null)
            {
                await Picture(name);
            }

            found.AddRange((await SticksOut()).Concat(await Barriers()).Select(one => $"{screen} {Page.Url}: {one}"));
        }

        await Resize(before);
        Assert.Empty(found);
    }

    /// <summary>A chart comes a moment after its page.</summary>
    public async Task ChartsAreDrawn()
    {
        foreach (var chart in await Page.Locator("figure.chart").AllAsync())
        {
            await chart.Locator("svg").First.WaitForAsync();
        }
    }

    /// <summary>Opens what is folded under these words.</summary>
    public Task Unfold(string words) => Page.Locator("main summary", new() { HasText = words }).First.ClickAsync();

    public Task Live() => Page.Locator("main[data-live]").WaitForAsync();

    /// <summary>Waits until an asynchronous question to the page is answered with yes; the browser's own wait takes a promise for an
    /// answer.</summary>
    public Task Until(string question) =>
        Wait.For(question,
            Page.EvaluateAsync($"async () => {{ while (!await ({question})()) await new Promise(done => setTimeout(done, 50)); }}"));

    /// <summary>As if somebody had pressed Allow.</summary>
    public Task Allow(string permission) =>
        context.GrantPermissionsAsync([permission], new() { Origin = new Uri(Page.Url).GetLeftPart(UriPartial.Authority) });

    /// <summary>A finger that is put down on something and drawn up by so many pixels.</summary>
    public async Task SwipeUp(ILocator on, int pixels)
    {
        await on.ScrollIntoViewIfNeededAsync();
        var box = await on.BoundingBoxAsync() ?? throw new InvalidOperationException("It is not to be seen.");
        var finger = await context.NewCDPSessionAsync(Page);
        var (x, y) = (box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await Touch("touchStart", y);
        for (var step = 1; step <= SwipeSteps; step++)
        {
            await Touch("touchMove", y - (pixels * step / (float)SwipeSteps));
        }

        await finger.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = "touchEnd", ["touchPoints"] = Array.Empty<object>() });

        Task Touch(string type, float at) =>
            finger.SendAsync("Input.dispatchTouchEvent", new() { ["type"] = type, ["touchPoints"] = new[] { new { x, y = at } } });
    }

    /// <summary>The page's service worker, once it runs.</summary>
    public async Task<WorkerOfPage> ServiceWorker() =>
        await WorkerOfPage.Find(await context.NewCDPSessionAsync(Page), new Uri(Page.Url).GetLeftPart(UriPartial.Authority));

    /// <summary>What the accessibility checker finds, one line for each element; empty is good.</summary>
    public async Task<string[]> Barriers()
    {
        // The checker's own wrapper opens a second page for each run, which takes longer than the check.
        if (await Page.EvaluateAsync<bool>("() => window.axe === undefined"))
        {
            await Page.EvaluateAsync(Axe);
        }

        return await Page.EvaluateAsync<string[]>("""
            async rules => (await axe.run(document, { runOnly: rules, resultTypes: ['violations'] })).violations
                .flatMap(violation => violation.nodes.map(node => `${violation.id}: ${violation.help}: ${node.html}`))
            """, Rules);
    }

    /// <summary>By how many pixels the page is wider than the screen, and what sticks out; 0 is good.</summary>
    public Task<string[]> SticksOut() => Page.EvaluateAsync<string[]>("""
        () => document.documentElement.scrollWidth <= innerWidth ? [] : [...document.querySelectorAll('body *')]
            .filter(one => one.getBoundingClientRect().right > innerWidth + 1)
            .map(one => `${one.tagName}.${one.className}: ${one.textContent.trim().slice(0, 60)}`)
            .concat([`${document.documentElement.scrollWidth} of ${innerWidth} px`])
        """);

    /// <summary>Buttons, fields and folds that a finger may miss, because they are smaller than 44 px; a link within a sentence is as high
    /// as its line (WCAG 2.2, 2.5.5 and its exceptions).</summary>
    public Task<string[]> TooSmall() => Page.EvaluateAsync<string[]>("""
        () => {
            const target = one => one.matches('input[type=radio], input[type=checkbox]') ? one.closest('label') ?? one : one;
            return [...document.querySelectorAll('button, .button, summary, select, textarea, input, .rail a')]
                .map(target).filter(one => one.checkVisibility({ visibilityProperty: true }) && one.getClientRects().length > 0)
                .filter(one => getComputedStyle(one).clipPath === 'none' && !one.closest('.away'))
                .map(one => [one, one.getBoundingClientRect()]).filter(([, box]) => Math.min(box.width, box.height) < 43.5)
                .map(([one, box]) => `${one.tagName}.${one.className} ${Math.round(box.width)} x ${Math.round(box.height)}: `
                    + one.textContent.trim().slice(0, 40));
        }
        """);

    /// <summary>Text that lies over other text, or sticks out, when letters are twice as large; as it was afterwards. A caution in brief is
    /// cut after two lines, and opens.</summary>
    public async Task<string[]> OverlapsAtDoubledText()
    {
        await Page.EvaluateAsync("() => { document.documentElement.style.fontSize = '200%'; }");
        await ChartsAreDrawn();
        var found = await Page.EvaluateAsync<string[]>("""
            () => {
                const hasText = one => [...one.childNodes].some(node => node.nodeType === 3 && node.textContent.trim().length > 0);
                const drawn = one => one.closest('svg, .away, .chart, [aria-hidden=true], option, select, .rail, .brief') === null;
                const floats = one => { for (; one; one = one.parentElement) if (['fixed', 'sticky'].includes(getComputedStyle(one).position))
                    return true; return false; };
                const folded = one => { for (let fold = one.closest('details'); fold; fold = fold.parentElement.closest('details'))
                    if (!fold.open && !fold.querySelector(':scope > summary')?.contains(one)) return true;
                    return false; };
                const clipped = one => getComputedStyle(one).clipPath !== 'none' || folded(one);
                const cutOff = ({ one, box }) => { for (let around = one; around; around = around.parentElement)
                    if (getComputedStyle(around).overflowY === 'hidden' && box.top + box.height / 2 > around.getBoundingClientRect().bottom) return true;
                    return false; };
                const boxes = [...document.querySelectorAll('main *')].filter(one => hasText(one) && drawn(one)
                    && !floats(one) && !clipped(one) && one.checkVisibility({ visibilityProperty: true })).flatMap(one => [...one.childNodes]
                    .filter(node => node.nodeType === 3 && node.textContent.trim().length > 0).flatMap(node => {
                        const range = document.createRange();
                        range.selectNodeContents(node);
                        return [...range.getClientRects()].map(box => ({ one, box, text: node.textContent.trim().slice(0, 60) }));
                    })).filter(({ box }) => box.width > 1 && box.height > 1)
                    .filter(text => !cutOff(text));
                const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 3
                    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > Math.min(a.height, b.height) / 2;
                const found = [];
                for (let i = 0; i < boxes.length; i++)
                    for (let j = i + 1; j < boxes.length; j++)
                        if (over(boxes[i].box, boxes[j].box)) found.push(`"${boxes[i].text}" lies over "${boxes[j].text}"`);
                return [...new Set(found)].slice(0, 20);
            }
            """);
        var stuck = await SticksOut();
        await Page.EvaluateAsync("() => { document.documentElement.style.fontSize = ''; }");
        return [.. found, .. stuck];
    }

    /// <summary>Keeps a picture of the whole page among the artefacts, or of what the screen shows.</summary>
    public Task Picture(string name, bool whole = true) => Page.ScreenshotAsync(new()
    {
        Path = SourceTree.Path("artifacts", "screenshots", $"{name}-{display}.png"),
        FullPage = whole,

        // A picture of the whole page is taller than the screen, to which the menu is fixed.
        Style = whole ? "@media (max-width: 899px) { .rail { position: static !important; } } @media (min-width: 900px) { .rail { "
            + "position: absolute !important; } body { position: relative; min-height: 100vh; } }" : null,
        Animations = ScreenshotAnimations.Disabled,
    });

    public async ValueTask DisposeAsync()
    {
        await context.DisposeAsync();
        with?.Dispose();
    }
}
