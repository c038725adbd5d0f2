using System.Collections.Frozen;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>The locations of a home that are watched, and where the readings of each probe are folded.</summary>
/// <param name="conditions">The conditions that are looked for.</param>
/// <param name="hoursChanged">Called when the hours of a location have changed.</param>
internal sealed class WatchedLocations(ConditionSet conditions, Action hoursChanged)
{
    /// <summary>Probes that nobody has declared are watched up to this many.</summary>
    public const int StrangerMax = 256;

    // Each move of a batch may change what it brings to the next location.
    private const int MovesMax = 16;

    private readonly Dictionary<Location, LocationFold> locations = [];
    private FrozenDictionary<string, ProbeRoute> routes = FrozenDictionary<string, ProbeRoute>.Empty;
    private readonly HashSet<ProbeId> strangers = [];

    public Dictionary<Location, LocationFold>.ValueCollection All => locations.Values;

    public LocationFold? Find(Location location) => locations.GetValueOrDefault(location);

    /// <summary>Where a probe's readings go; null for one that is not known.</summary>
    public ProbeRoute? RouteOf(ProbeId probe) => routes.GetValueOrDefault(probe.Text);

    /// <summary>Lets probes that nobody has set up be watched, as far as there is room for them; returns whether any came in.</summary>
    public bool Welcome(IEnumerable<ProbeId> probes, HomeFacts facts)
    {
        var room = StrangerMax - strangers.Count;
        if (room <= 0)
        {
            return false;
        }

        var known = Declared(facts);
        var welcome = probes.Where(probe => !known.Contains(probe) && !strangers.Contains(probe)).Distinct().Take(room).ToList();
        strangers.UnionWith(welcome);
        return welcome.Count > 0;
    }

    /// <summary>Lays the facts on the locations; returns those that are no more.</summary>
    /// <param name="facts">The facts.</param>
    /// <param name="changed">From when on something other than the locations' own changes is different.</param>
    /// <param name="heardUpTo">Up to when readings were taken in.</param>
    /// <param name="added">Called with each new location.</param>
    public IReadOnlyList<LocationFold> Adopt(HomeFacts facts, Moment changed, Moment heardUpTo, Action<LocationFold> added)
    {
        var found = new Dictionary<string, ProbeRoute>(StringComparer.Ordinal);
        var probes = Declared(facts);
        probes.UnionWith(strangers);
        var spots = facts.Spots.Select(spot => spot.Id).Concat(facts.Stations.Select(station => station.Spot)).ToHashSet();
        foreach (var spot in spots)
        {
            Adopt(Location.Of(spot), LocationTimeline.OfSpot(spot, facts, CarriedTo), facts, changed, heardUpTo, location =>
            {
                added(location);
                location.CatchUp(heardUpTo);
            });
        }

        foreach (var probe in probes)
        {
            var alone = Adopt(Location.Of(probe), LocationTimeline.OfLone(probe, facts), facts, changed, heardUpTo, added);
            found[probe.Text] = new(alone, facts.Stations.Where(station => station.Probe == probe)
                .Select(station => (station.When, locations[Location.Of(station.Spot)])));
        }

        routes = found.ToFrozenDictionary(StringComparer.Ordinal);
        var wanted = spots.Select(Location.Of).Concat(probes.Select(Location.Of)).ToHashSet();
        var gone = locations.Where(known => !wanted.Contains(known.Key)).Select(known => known.Value).ToList();
        gone.ForEach(location => locations.Remove(location.Location));
        return gone;
    }

    /// <summary>Lays what batches bring along on the locations that they came to; those that must be folded again for it are
    /// late.</summary>
    public void CarryOver(HomeFacts facts)
    {
        var any = false;
        foreach (var location in locations.Values)
        {
            any |= location.Watch.Departures.AreNew;
            location.Watch.Departures.AreNew = false;
        }

        if (!any)
        {
            return;
        }

        foreach (var spot in facts.Batches.SelectMany(batch => batch.Batch.Stays.Skip(1)).Select(stay => stay.Spot).Distinct())
        {
            if (locations.TryGetValue(Location.Of(spot), out var location))
            {
                location.Carry(LocationTimeline.OfSpot(spot, facts, CarriedTo));
            }
        }
    }

    /// <summary>Folds locations again until no batch brings along anything new.</summary>
    public void RefoldCarried(HomeFacts facts, Func<Location, ProbeId, IEnumerable<Reading>> read, Moment now)
    {
        for (var round = 0; round < MovesMax; round++)
        {
            CarryOver(facts);
            var late = locations.Values.Select(location => (Location: location, Wanted: location.TakeLate()))
                .Where(location => location.Wanted is not null).ToList();
            if (late.Count == 0)
            {
                return;
            }

            foreach (var (location, wanted) in late)
            {
                location.Refold(InOrder.Merge(location.Probes.Select(probe => Since(read(location.Location, probe), wanted!.From))), now);
            }
        }
    }

    private static IEnumerable<Reading> Since(IEnumerable<Reading> readings, Instant? from) =>
        readings.Where(reading => from is not { } start || reading.MeasuredAt >= start);

    private static HashSet<ProbeId> Declared(HomeFacts facts) =>
        [.. facts.Probes.Select(probe => probe.Id), .. facts.Stations.Select(station => station.Probe)];

    private BatchDeparture? CarriedTo(Batch batch, int stay) =>
        stay > 0 && locations.TryGetValue(Location.Of(batch.Stays[stay - 1].Spot), out var before)
            ? before.Watch.Departures.Find(batch.Id, LocationTimeline.EndOf(batch, stay - 1))
            : null;

    private LocationFold Adopt(Location location, LocationTimeline timeline, HomeFacts facts, Moment changed, Moment heardUpTo,
        Action<LocationFold> added)
    {
        var settings = new LocationSettings(conditions, facts.Limits, facts.Zone, OutageList.Of(location, facts));
        if (locations.TryGetValue(location, out var known))
        {
            known.Adopt(timeline, settings, changed, heardUpTo);
            return known;
        }

        var fold = new LocationFold(location, timeline, settings, new HourLog(hoursChanged));
        locations[location] = fold;
        added(fold);
        return fold;
    }
}
