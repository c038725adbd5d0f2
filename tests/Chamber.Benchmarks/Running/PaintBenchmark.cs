using System.Diagnostics;
using Chamber.Testing;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// When somebody sees something: the demo's Today in Debian's Chromium, each time by a browser that has never been there. Times are
/// the browser's own, counted from when it sets out (Paint Timing, W3C). The yardstick is one word from the same service, which
/// takes what the browser takes by itself. Give the program to measure: the published one, or the built one without an argument.
/// </summary>
internal static class PaintBenchmark
{
    private const int Visits = 15;
    private static readonly (string Name, string Path)[] Pages = [("the yardstick: one word", "/health/live"), ("Today", "/"),
        ("Spots", "/spots"), ("Batches", "/batches"), ("a batch with its charts", "/batches/T1")];

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        await using var browser = await DemoInBrowser.Open();

        // The browser's own first visit to anywhere is slower than any later one, and no concern of the page.
        await Visit(browser, "data:text/html,warm");
        var address = await browser.StartDemo(program);
        var first = await Visit(browser, address);
        Measure.Say($"Today, opened in the moment of the start: painted after {first.Paint:F0} ms, live after {first.Live:F0} ms");

        foreach (var (name, path) in Pages)
        {
            var before = Process.GetProcessById(browser.Demo.Id).TotalProcessorTime;
            var seen = new List<(double Paint, double Answer, double Live)>();
            for (var visit = 0; visit < Visits; visit++)
            {
                seen.Add(await Visit(browser, address + path));
            }

            var busy = (Process.GetProcessById(browser.Demo.Id).TotalProcessorTime - before) / Visits;
            Measure.Say(
                $"{name,-26} painted after {Middle(seen, one => one.Paint),5:F0} ms, at worst {seen.Max(one => one.Paint),5:F0}; answered after {Middle(seen, one => one.Answer),5:F0}, live after {Middle(seen, one => one.Live),5:F0}; {busy.TotalMilliseconds,5:F0} ms of the service's processor");
        }

        return 0;
    }

    // Answer: the last byte of the page. Live: a tap is heard.
    public static async Task<(double Paint, double Answer, double Live)> Visit(DemoInBrowser browser, string address)
    {
        await using var context = await browser.Visitor();
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
}
