using Chamber.Testing;

namespace Chamber.Benchmarks.Running;

/// <summary>
/// How soon each page hears a tap: from its first contentful paint until it is live, in Debian's Chromium as a phone, each time by a
/// browser that has never been there. Give the program to measure: the published one, or the built one without an argument.
/// </summary>
internal static class LiveBenchmark
{
    private const int Visits = 3;
    private const double AimMilliseconds = 1000;

    public static async Task<int> Run(string[] arguments)
    {
        var program = arguments is [var named, ..] ? named : ChamberProcess.Program;
        await using var browser = await DemoInBrowser.Open();
        var address = await browser.StartDemo(program);
        await browser.Demo.Line("Nothing heard from sill-air");
        await PaintBenchmark.Visit(browser, address);
        var all = new List<double>();
        foreach (var path in DemoInBrowser.Pages)
        {
            var waits = new List<double>();
            for (var visit = 0; visit < Visits; visit++)
            {
                var (paint, _, live) = await PaintBenchmark.Visit(browser, address + path);
                waits.Add(live - paint);
            }

            all.AddRange(waits);
            Measure.Say($"{waits.Min(),6:F0} to {waits.Max(),6:F0} ms  {path}");
        }

        all.Sort();
        var heard = all.Count(wait => wait <= AimMilliseconds);
        Measure.Say($"{heard} of {all.Count} visits heard a tap within {AimMilliseconds:F0} ms of the first paint");
        Measure.Say($"the middle {all[all.Count / 2]:F0} ms, the slowest {all[^1]:F0} ms");
        return 0;
    }
}
