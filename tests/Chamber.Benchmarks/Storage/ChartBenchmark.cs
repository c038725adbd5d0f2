using System.Diagnostics;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Web.Views;
using Chamber.Storage;
using Microsoft.Data.Sqlite;
using NodaTime;
using SQLitePCL;

namespace Chamber.Benchmarks.Storage;

/// <summary>
/// What a chart of a year of minutes of one spot costs; the aim is 300 ms. The yardstick is the binding library stepping through the
/// same rows and doing nothing with them: no chart that reads every reading can cost less than about that.
/// </summary>
internal static class ChartBenchmark
{
    private const int YearOfMinutes = 525_600;
    private const int Runs = 7;

    private static readonly Instant Start = Instant.FromUtc(2025, 1, 1, 0, 0);
    private static readonly Interval Year = new(Start, Start + Duration.FromMinutes(YearOfMinutes));
    private static readonly SpotId Shelf = new("shelf");
    private static readonly ProbeId Media = new("media");

    public static void Run()
    {
        var folder = Directory.CreateTempSubdirectory("chamber-benchmark-");
        try
        {
            var path = Path.Combine(folder.FullName, "year.db");
            using var store = ChamberStore.Open(path, new() { Readings = Durability.ProcessEnd });
            Fill(store);
            Compare(store, path);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static void Compare(ChamberStore store, string path)
    {
        var home = new HomeReader(store.Home, store.Records, CropCatalog.Shipped, DateTimeZone.Utc);
        var steps = Median("the yardstick: stepped through", () => Step(path));
        foreach (var (what, work) in (ValueTuple<string, Func<long>>[])
        [
            ("the chart of the spot", () => Chart(home)),
            ("read from the journal", () => store.Journal.ReadTemperatures(Media, Year).LongCount()),
            ("the trace of the spot", () => home.Trace(Shelf, Year).Stretches.Count),
        ])
        {
            Measure.Say($"{what,-40} {Median(what, work) / steps:F2} times the yardstick");
        }
    }

    /// <summary>The middle of some runs in processor time, ms, after one that does not count.</summary>
    private static double Median(string what, Func<long> work)
    {
        var first = Stopwatch.StartNew();
        work();
        first.Stop();
        var times = Enumerable.Range(0, Runs).Select(_ =>
        {
            var before = Environment.CpuUsage.TotalTime;
            work();
            return (Environment.CpuUsage.TotalTime - before).TotalMilliseconds;
        }).Order().ToArray();
        Measure.Say(
            $"{what,-40} {times[Runs / 2]:F0} ms of processor ({times[0]:F0} to {times[^1]:F0}), the first time {first.Elapsed.TotalMilliseconds:F0} by the clock");
        return times[Runs / 2];
    }

    private static int Chart(HomeReader home) =>
        TemperatureSeries.Of(home.Thinned(Shelf, Year, TemperatureSeries.Parts(TemperatureSeries.DefaultPoints)), Year).Points.Count;

    private static long Step(string path)
    {
        using var connection = new SqliteConnection($"Data Source={path};Mode=ReadOnly");
        connection.Open();
        raw.sqlite3_prepare_v2(connection.Handle, "SELECT at, temperature FROM reading WHERE probe = 1 ORDER BY at", out var statement);
        using (statement)
        {
            var count = 0L;
            while (raw.sqlite3_step(statement) == raw.SQLITE_ROW)
            {
                count++;
            }

            return count;
        }
    }

    private static void Fill(ChamberStore store)
    {
        var random = new Random(20261128);
        store.Ledger.SetUp.Save(new Spot(Shelf, SpotKind.Shelf, LightLevel.Bright, 4));
        store.Ledger.SetUp.Save(new ProbeEntry(new(Media, Measurand.Media, Probe.DefaultMaxGap)));
        store.Ledger.SetUp.Put(Media, Shelf, Start);
        foreach (var chunk in Enumerable.Range(0, YearOfMinutes).Chunk(5000))
        {
            store.Journal.Append([.. chunk.Select(minute => Reading(minute, random))], []);
        }
    }

    private static Reading Reading(int minute, Random random)
    {
        var at = Start + Duration.FromMilliseconds((60_000L * minute) + random.Next(1000));
        return new(
            Media,
            at,
            at + Duration.FromMilliseconds(random.Next(300)),
            Temperature.FromCelsius(Math.Round(21 + (4 * Math.Sin(minute * Math.Tau / 1440)) + random.NextDouble(), 1)),
            RelativeHumidity.FromPercent(Math.Round(45 + (random.NextDouble() * 4), 1)));
    }
}
