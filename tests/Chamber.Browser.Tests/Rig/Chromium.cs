using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Chamber.Browser.Tests.Rig.Chromium))]
[assembly: AssemblyFixture(typeof(Chamber.Browser.Tests.Rig.SampleHome))]

namespace Chamber.Browser.Tests.Rig;

/// <summary>One real browser for all tests: Debian's, with a profile of its own that goes with it. Each tab has its own cookies.</summary>
public sealed class Chromium : IAsyncLifetime
{
    private const string Program = "/usr/bin/chromium";

    // Tests may run as root, and a browser at its own devices calls home, which a test run must not.
    private static readonly string[] Flags =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync",
    ];

    private IPlaywright playwright = null!;
    private IBrowser browser = null!;

    public async ValueTask InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = Flags, Headless = true });
    }

    /// <summary>Opens an address in a fresh browser context and waits until the page is live.</summary>
    public async Task<Tab> Open(string address, Display display)
    {
        var tab = await New(display);
        await tab.GoTo(address);
        return tab;
    }

    /// <summary>An empty tab of somebody else.</summary>
    public Task<Tab> New(Display display) => Tab.New(browser, display);

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
    }
}
