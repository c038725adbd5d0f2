using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// Debian's Chromium as a phone of 360 by 740 px, and the demo that it looks at. The demo goes on in real time, so that one visit sees
/// nearly what the next one sees.
/// </summary>
internal sealed partial class DemoInBrowser : IAsyncDisposable
{
    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;
    private RunningProgram? _demo;

    private DemoInBrowser(IPlaywright playwright, IBrowser browser) => (_playwright, _browser) = (playwright, browser);

    /// <summary>Every page, as the demo fills it.</summary>
    public static IReadOnlyList<string> Pages { get; } =
    [
        "/", "/spots", "/spots?crop=basil", "/spots/plain-mat", "/spots/boiler-cupboard?crop=basil", "/spots/crops",
        "/spots/place?sow=tomato:2&sow=lettuce:1", "/spots/compare?spot=plain-mat&spot=sunny-sill&spot=boiler-cupboard&crop=basil",
        "/batches", "/batches/T1", "/batches/compare?first=T1&second=B1", "/batches/year", "/batches/season", "/batches/hindsight",
        "/batches/learned", "/seeds", "/seeds/lots/tomato-own", "/seeds/add",
        "/seeds/sow?lot=tomato-own&spot=thermostat-mat", "/seeds/plan",
        "/set-up", "/set-up/start", "/set-up/probes", "/set-up/calibrate", "/set-up/read", "/set-up/spots", "/set-up/crops",
        "/set-up/crops/trials", "/set-up/notices", "/set-up/network", "/set-up/people", "/set-up/safekeeping", "/set-up/about",
        "/history", "/cautions",
    ];

    public RunningProgram Demo => _demo ?? throw new InvalidOperationException("Start the demo first.");

    public static async Task<DemoInBrowser> Open()
    {
        var playwright = await Playwright.CreateAsync();
        return new(playwright, await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update",
                "--disable-sync"],
        }));
    }

    /// <returns>The address of its page.</returns>
    public async Task<string> StartDemo(string program)
    {
        _demo = RunningProgram.Start(program,
            ["demo", "--speed", "1", "--page-port", Number(FreePort.Next()), "--broker-port", Number(FreePort.Next())]);
        return PageAddress().Match(await _demo.Line("Chamber is ready")).Groups[1].Value;
    }

    /// <returns>A visitor who has never been there.</returns>
    public Task<IBrowserContext> Visitor() => _browser.NewContextAsync(new() { ViewportSize = new() { Width = 360, Height = 740 } });

    public async ValueTask DisposeAsync()
    {
        if (_demo is not null)
        {
            // Asked to, the demo takes its home away with it.
            _demo.AskToStop();
            await _demo.End();
            await _demo.DisposeAsync();
        }

        await _browser.DisposeAsync();
        _playwright.Dispose();
    }

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex("The page: (https?://[^ ]*[0-9])")]
    private static partial Regex PageAddress();
}
