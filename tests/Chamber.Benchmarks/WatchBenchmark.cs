using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Benchmarks;

/// <summary>
/// The fold of the watch over a year of minutes of 20 spots, each with a tomato batch. Aim: 5 million readings a second of one core, and
/// the year folded again within 10 s. Only the fold counts, not the making of the readings, and in processor time, so that other work on
/// the machine does not.
/// </summary>
internal static class WatchBenchmark
{
    private const int SpotCount = 20;
    private const int Days = 365;
    private const int MinutesADay = 1440;

    private static readonly Instant Start = Instant.FromUtc(2025, 11, 25, 0, 0);

    public static void Run()
    {
        // The compiler's second tier comes in the background: let it, before anything counts.
        Fold("warming up", spots: 4, days: 90, all: true);
        Fold("one spot, temperature", 1, Days, all: false);
        Fold("one spot, temperature, humidity, battery", 1, Days, all: true);
        Fold("20 spots, temperature", SpotCount, Days, all: false);
        Fold("20 spots, temperature, humidity, battery", SpotCount, Days, all: true);
        Fold("20 spots, told after each minute", SpotCount, 30, all: true, step: SpotCount);
        Refold(SpotCount);
    }

    private static void Refold(int spots)
    {
        var blocks = new Reading[30][];
        for (var day = 0; day < blocks.Length; day++)
        {
            Fill(blocks[day] = new Reading[MinutesADay * spots], spots, day, all: true);
        }

        var bySpot = Enumerable.Range(0, spots).ToDictionary(spot => Names[spot],
            spot => blocks.SelectMany(block => block.Where((_, index) => index % spots == spot)).ToArray());
        var watch = new HomeWatch(Facts(spots));
        var processor = Environment.CpuUsage.TotalTime;
        watch.Rebuild(probe => bySpot[probe], Start + Duration.FromDays(blocks.Length));
        Tell($"{spots} spots, a month folded again from the journal", (long)blocks.Length * MinutesADay * spots,
            Environment.CpuUsage.TotalTime - processor, watch);
    }

    private static void Tell(string what, long count, TimeSpan busy, HomeWatch watch) =>
        Measure.Say(
            $"{what,-52} {count,11:N0} in {busy.TotalSeconds,6:F2} s  {count / busy.TotalSeconds,11:N0}/s  {busy.TotalNanoseconds / count,5:F0} ns  {watch.Alerts().Count} alerts");

    private static void Fold(string what, int spots, int days, bool all, int step = int.MaxValue)
    {
        var watch = new HomeWatch(Facts(spots));
        var block = new Reading[MinutesADay * spots];
        var busy = TimeSpan.Zero;
        for (var day = 0; day < days; day++)
        {
            Fill(block, spots, day, all);
            var processor = Environment.CpuUsage.TotalTime;
            for (var from = 0; from < block.Length; from += Math.Min(step, block.Length))
            {
                var part = new ArraySegment<Reading>(block, from, Math.Min(step, block.Length));
                watch.Step(part, part[^1].MeasuredAt);
            }

            busy += Environment.CpuUsage.TotalTime - processor;
        }

        Tell(what, (long)days * block.Length, busy, watch);
    }

    // Probes speak in turn within the minute; spots are from cool to warm, so that some are too cold or too hot at times.
    private static void Fill(Reading[] block, int spots, int day, bool all)
    {
        var random = new Random(day);
        for (var minute = 0; minute < MinutesADay; minute++)
        {
            for (var spot = 0; spot < spots; spot++)
            {
                var at = Start + Duration.FromSeconds((day * MinutesADay + minute) * 60L + spot);
                var celsius = 18 + spot * 0.6 + 4 * Math.Sin(minute * Math.PI / 720) + random.NextDouble() / 4;
                block[minute * spots + spot] = new(
                    Names[spot], at, at, Temperature.FromCelsius(celsius),
                    all ? RelativeHumidity.FromPercent(55 + 5 * random.NextDouble()) : null,
                    null,
                    all ? 80 : null);
            }
        }
    }

    private static readonly ProbeId[] Names = [.. Enumerable.Range(0, SpotCount).Select(index => new ProbeId($"probe-{index:00}"))];

    private static HomeFacts Facts(int spots)
    {
        var tomato = CropCatalog.Shipped.Require("tomato");
        var numbers = Enumerable.Range(0, spots).ToList();
        return new()
        {
            Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"],
            Probes = [.. numbers.Select(index => new Probe(Names[index], Measurand.Media, Probe.DefaultMaxGap))],
            Spots = [.. numbers.Select(index => new Spot(SpotOf(index), SpotKind.Shelf, LightLevel.Dim, 4))],
            Stations = [.. numbers.Select(index => new Station(Names[index], SpotOf(index), new(Start, null)))],
            Batches = [.. numbers.Select(index => new WatchedBatch(
                new(new($"T{index}"), tomato.Id, null, SowingMethod.CoveredMix, Start, 12, [new(SpotOf(index), new(Start, null))], [],
                    null), tomato))],
        };
    }

    private static SpotId SpotOf(int index) => new($"spot-{index:00}");
}
