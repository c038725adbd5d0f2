using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Chamber.Testing;
using Microsoft.Playwright;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// When somebody sees something: the demo's Today in Debian's Chromium, each time by a browser that has never been there. Times are
/// the browser's own, counted from when it sets out (Paint Timing, W3C). The yardstick is one word from the same service, which
/// takes what the browser takes by itself. Give the program to measure: the published one, or the built one without an argument.
/// </summary>
internal static partial class PaintBenchmark
{
    private const int Visits = 15;
    private static readonly (string Name, string Path)[] Pages = [("the yardstick: one word", "/health/live"), ("Today", "/"),
        ("Spots", "/spots"), ("Batches", "/batches"), ("a batch with its charts", "/batches/T1")];

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-component-update",
                "--disable-sync"],
        });

        // The browser's own first visit to anywhere is slower than any later one, and no concern of the page.
        await Visit(browser, "data:text/html,warm");
        await using var demo = RunningProgram.Start(program,
            ["demo", "--speed", "1", "--page-port", Number(FreePort.Next()), "--broker-port", Number(FreePort.Next())]);
        var address = PageAddress().Match(await demo.Line("Chamber is ready")).Groups[1].Value;
        var first = await Visit(browser, address);
        Measure.Say($"Today, opened in the moment of the start: painted after {first.Paint:F0} ms, live after {first.Live:F0} ms");

        foreach (var (name, path) in Pages)
        {
            var before = Process.GetProcessById(demo.Id).TotalProcessorTime;
            var seen = new List<(double Paint, double Answer, double Live)>();
            for (var visit = 0; visit < Visits; visit++)
            {
                seen.Add(await Visit(browser, address + path));
            }

            var busy = (Process.GetProcessById(demo.Id).TotalProcessorTime - before) / Visits;
            Measure.Say(
                $"{name,-26} painted after {Middle(seen, one => one.Paint),5:F0} ms, at worst {seen.Max(one => one.Paint),5:F0}; answered after {Middle(seen, one => one.Answer),5:F0}, live after {Middle(seen, one => one.Live),5:F0}; {busy.TotalMilliseconds,5:F0} ms of the service's processor");
        }

        // Asked to, the demo takes its home away with it.
        demo.AskToStop();
        await demo.End();
        return 0;
    }

    // Answer: the last byte of the page. Live: a tap is heard.
    private static async Task<(double Paint, double Answer, double Live)> Visit(IBrowser browser, string address)
    {
        await using var context = await browser.NewContextAsync(new() { ViewportSize = new() { Width = 360, Height = 740 } });
        var page = await context.NewPageAsync();
        await page.GotoAsync(address);
        var live = await page.EvaluateAsync<double>("""
            async () => {
                while (document.querySelector("main") && !document.querySelector("main[data-live]")) await new Promise(requestAnimationFrame);
                return performance.now();
            }
            """);
        var times = await page.EvaluateAsync<double[]>("""
            () => new Promise(done => new PerformanceObserver(list => {
                const paint = list.getEntriesByName("first-contentful-paint")[0];
                if (paint) done([paint.startTime, performance.getEntriesByType("navigation")[0].responseEnd]);
            }).observe({ type: "paint", buffered: true }))
            """);
        return (times[0], times[1], live);
    }

    private static double Middle(List<(double Paint, double Answer, double Live)> seen,
        Func<(double Paint, double Answer, double Live), double> what) => seen.Select(what).Order().ElementAt(seen.Count / 2);

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex("The page: (https?://[^ ]*[0-9])")]
    private static partial Regex PageAddress();
}
