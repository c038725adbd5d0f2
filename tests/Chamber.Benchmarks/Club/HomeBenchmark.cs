using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Benchmarks.Club;

/// <summary>What a home of four probes costs in memory while it is watched, and what it takes to make it again from its readings: two
/// spots, a batch on each, fourteen days of minutes. Only the fold, without a database.</summary>
internal static class HomeBenchmark
{
    private const int Homes = 20;
    private const int Minutes = 14 * 1440;
    private static readonly Instant Start = Instant.FromUtc(2025, 11, 25, 0, 0);
    private static readonly ProbeId[] Probes = [new("soil"), new("air"), new("mat"), new("lid")];

    public static void Run()
    {
        var readings = Probes.ToDictionary(probe => probe, probe => Said(Array.IndexOf(Probes, probe)));
        Make(readings);
        var before = GC.GetTotalMemory(forceFullCollection: true);
        var processor = Environment.CpuUsage.TotalTime;
        var homes = Enumerable.Range(0, Homes).Select(_ => Make(readings)).ToList();
        var busy = Environment.CpuUsage.TotalTime - processor;
        var held = GC.GetTotalMemory(forceFullCollection: true) - before;
        Measure.Say(
            $"a home made again from {Probes.Length * Minutes:N0} readings at hand: {busy.TotalMilliseconds / Homes:F1} ms of processor");
        Measure.Say($"a watched home: {held / 1024.0 / Homes:N0} KiB of memory");
        GC.KeepAlive(homes);
    }

    private static HomeWatch Make(Dictionary<ProbeId, Reading[]> readings)
    {
        var watch = new HomeWatch(Facts());
        watch.Rebuild(probe => readings[probe], Start + Duration.FromMinutes(Minutes));
        return watch;
    }

    private static Reading[] Said(int probe)
    {
        var random = new Random(probe);
        return [.. Enumerable.Range(0, Minutes).Select(minute =>
        {
            var at = Start + Duration.FromSeconds(minute * 60L + probe);
            return new Reading(Probes[probe], at, at,
                Temperature.FromCelsius(22 + probe + 4 * Math.Sin(minute * Math.PI / 720) + random.NextDouble() / 4),
                RelativeHumidity.FromPercent(55 + 5 * random.NextDouble()), null, 80);
        })];
    }

    private static HomeFacts Facts()
    {
        var tomato = CropCatalog.Shipped.Require("tomato");
        SpotId[] spots = [new("shelf"), new("heat-mat")];
        return new()
        {
            Probes = [.. Probes.Select((probe, index) => new Probe(probe, index % 2 == 0 ? Measurand.Media : Measurand.Air,
                Probe.DefaultMaxGap))],
            Spots = [.. spots.Select(spot => new Spot(spot, SpotKind.Shelf, LightLevel.Dim, 4))],
            Stations = [.. Probes.Select((probe, index) => new Station(probe, spots[index / 2], new(Start, null)))],
            Batches = [.. spots.Select((spot, index) => new WatchedBatch(
                new(new($"T{index}"), tomato.Id, null, SowingMethod.CoveredMix, Start, 12, [new(spot, new(Start, null))], [], null),
                tomato))],
        };
    }
}
