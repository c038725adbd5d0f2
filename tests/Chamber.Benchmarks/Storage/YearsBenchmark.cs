using System.Diagnostics;
using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Storage;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Benchmarks.Storage;

/// <summary>
/// Years of minutes of twenty probes, taken in month by month and summed up as the service does it each night: size of the
/// file, times of the questions that a home asks, and time of a start at the end of each year.
/// </summary>
internal static class YearsBenchmark
{
    private const int Probes = 20;
    private const int MinutesAtOnce = 100;
    private static readonly Duration Kept = Duration.FromDays(400);
    private static readonly Duration Minute = Duration.FromMinutes(1);

    public static async Task<int> Run(string[] arguments)
    {
        var years = arguments is [var count, ..] ? int.Parse(count, CultureInfo.InvariantCulture) : 5;
        var program = arguments is [_, var named, ..] ? named : ChamberProcess.Program;
        using var folder = new TempFolder();
        folder.Write("chamber.json",
            $$"""{ "page": { "port": {{FreePort.Next()}} }, "broker": { "listen": [{ "port": {{FreePort.Next()}} }] } }""");
        var end = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        var now = end - Duration.FromDays(years * 365);
        for (var year = 1; year <= years; year++)
        {
            var clock = Stopwatch.StartNew();
            using (var store = ChamberStore.Open(folder.File("chamber.db"), new() { Readings = Durability.ProcessEnd }))
            {
                for (var month = 0; month < 12; month++)
                {
                    now = Append(store, now, Duration.FromDays(month == 11 ? 35 : 30));
                    while (store.Journal.RollUp(now - Kept).More)
                    {
                    }
                }

                var size = store.Journal.Size();
                Measure.Say(
                    $"year {year}: {new FileInfo(folder.File("chamber.db")).Length / 1e6:F0} MB, {size.Readings:N0} readings and {size.Rolled:N0} level stretches; the year taken in and summed up in {clock.Elapsed.TotalSeconds:F0} s");
                Ask(store, now);
            }

            await StartUp(program, folder.Path);
        }

        return 0;
    }

    private static Instant Append(ChamberStore store, Instant from, Duration span)
    {
        var end = from + span;
        var batch = new List<Reading>(Probes * MinutesAtOnce);
        for (var at = from; at < end; at += Minute)
        {
            for (var probe = 0; probe < Probes; probe++)
            {
                batch.Add(new(Id(probe), at, at + Duration.FromMilliseconds(40), Temperature.FromCelsius(Celsius(probe, at)),
                    RelativeHumidity.FromPercent(40 + probe)));
            }

            if (batch.Count >= Probes * MinutesAtOnce)
            {
                store.Journal.Append(batch, []);
                batch.Clear();
            }
        }

        store.Journal.Append(batch, []);
        return end;
    }

    // Steady cupboards, sills by day and night, mats with a thermostat: what the roll-up finds easy, middling and hard.
    private static double Celsius(int probe, Instant at)
    {
        var minutes = at.ToUnixTimeSeconds() / 60.0;
        var season = 2 * Math.Sin(minutes / 525_600 * Math.Tau);
        var swing = (probe % 3) switch
        {
            0 => 0.3 * Math.Sin(minutes / 1440 * Math.Tau),
            1 => 4 * Math.Sin(minutes / 1440 * Math.Tau),
            _ => 1.5 * Math.Sin(minutes / 37 * Math.Tau),
        };
        return Math.Round(20 + (probe * 0.3) + season + swing, 2);
    }

    private static void Ask(ChamberStore store, Instant now)
    {
        var fortnight = new Interval(now - Duration.FromDays(14), now);
        var first = store.Journal.ReadTemperatures(Id(4), new(null, null)).First().At;
        Measure.Rate("  a fortnight of one probe", () => store.Journal.ReadTemperatures(Id(3), fortnight).LongCount());
        Measure.Rate("  the oldest month of one probe",
            () => store.Journal.ReadTemperatures(Id(4), new(first, first + Duration.FromDays(30))).LongCount());
        Measure.Rate("  all of one probe", () => store.Journal.ReadTemperatures(Id(5), new(null, null)).LongCount());
        Measure.Rate("  newest of every probe", () => store.Journal.Latest(Instant.MaxValue).Count);
    }

    private static async Task StartUp(string program, string data)
    {
        var clock = Stopwatch.StartNew();
        await using var service = RunningProgram.Start(program, ["run", "--data", data]);
        await service.Line("Watching ");
        await service.Line("Chamber is ready");
        var ready = clock.Elapsed;
        var process = Process.GetProcessById(service.Id);
        Measure.Say(
            $"  ready after {ready.TotalSeconds:F2} s with the watch rebuilt ({process.TotalProcessorTime.TotalSeconds:F2} s of processor), {process.WorkingSet64 / 1e6:F0} MB resident");
        service.AskToStop();
        await service.End();
    }

    private static ProbeId Id(int number) => new(FormattableString.Invariant($"probe-{number}"));
}
