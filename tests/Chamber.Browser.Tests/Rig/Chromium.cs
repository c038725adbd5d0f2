using System.Collections;
using Chamber.Testing;
using Microsoft.Playwright;

[assembly: AssemblyFixture(typeof(Chamber.Browser.Tests.Rig.Chromium))]
[assembly: AssemblyFixture(typeof(Chamber.Browser.Tests.Rig.SampleHome))]

namespace Chamber.Browser.Tests.Rig;

/// <summary>One real browser for all tests: Debian's, with its own profile, deleted afterwards. Each tab has its own cookies.</summary>
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

    public ValueTask InitializeAsync() => Launch();

    /// <summary>A browser of a test's own, with flags beside the usual ones.</summary>
    public static async Task<Chromium> Start(params string[] flags)
    {
        var chromium = new Chromium();
        await chromium.Launch(flags);
        return chromium;
    }

    /// <summary>
    /// Opens an address in a separate browser that shows notices on a desktop, and waits until the page is live. It keeps what it
    /// knows in a folder: a tap on a notice reaches no page of a browser that keeps nothing.
    /// </summary>
    public static async Task<Tab> OpenOn(Desktop desktop, TempFolder profile, string address, Display display)
    {
        var environment = Environment.GetEnvironmentVariables().Cast<DictionaryEntry>()
            .ToDictionary(one => (string)one.Key, one => (string)one.Value!);
        environment["DBUS_SESSION_BUS_ADDRESS"] = desktop.Address;
        var playwright = await Playwright.CreateAsync();
        var tab = await Tab.In(
            await playwright.Chromium.LaunchPersistentContextAsync(profile.Path,
            new() { ExecutablePath = Program, Args = Flags, Env = environment, Headless = true, ViewportSize = display.Viewport }),
            display, playwright);
        await tab.GoTo(address);
        return tab;
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

    private async ValueTask Launch(params string[] flags)
    {
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Program, Args = [.. Flags, .. flags], Headless = true });
    }

    public async ValueTask DisposeAsync()
    {
        await browser.DisposeAsync();
        playwright.Dispose();
    }
}
