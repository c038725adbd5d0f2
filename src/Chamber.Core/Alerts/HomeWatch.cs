using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// The watch over a home: a fold over readings, facts and time. The state is this object; each method is a step that takes an
/// input and the present instant, and returns what there is to say. It reads no clock and does no I/O, and the alerts that it ends with
/// depend on the readings and facts alone, not on the order in which they came. Not thread-safe: one writer.
/// </summary>
public sealed partial class HomeWatch
{
    /// <summary>Probes that nobody has declared are watched up to this many.</summary>
    public const int StrangerMax = 256;

    private readonly Dictionary<Place, PlaceFold> places = [];
    private readonly Dictionary<ProbeId, Route> routes = [];
    private readonly HashSet<ProbeId> strangers = [];
    private readonly List<Alert> stored;
    private readonly Instant toldUpTo;
    private readonly DriftWatch drift = new();
    private HomeFacts facts;
    private WatchTicks limits;

    /// <param name="facts">What the ledger knows.</param>
    /// <param name="stored">What was said before a restart, from the ledger: the open alerts, and those closed within the time that will be folded again.</param>
    /// <param name="toldUpTo">From where on <paramref name="stored"/> is whole: what the facts alone say of times before it is not told again.</param>
    public HomeWatch(HomeFacts facts, IReadOnlyList<Alert>? stored = null, Instant? toldUpTo = null)
    {
        this.facts = facts;
        this.toldUpTo = toldUpTo ?? Instant.MinValue;
        this.stored = [.. stored ?? []];
        limits = new(facts.Limits, facts.Zone);
        home = new HomeFold([.. this.stored.Where(alert => alert.Subject.Kind == SubjectKind.Home)]);
        refused = new(facts.Limits);
        batchesTold.AddRange(this.stored.Where(alert => alert.Subject.Kind == SubjectKind.Batch));
        refused.Told.AddRange(this.stored.Where(alert => alert.Kind == AlertKind.ClockWrong || (alert.Kind == AlertKind.FaultyProbe && IsOfRefusals(alert))));
        AdoptPlaces(long.MaxValue);
    }

    /// <summary>Readings of probes beyond <see cref="StrangerMax"/> undeclared ones, which are not watched.</summary>
    public long NotWatched { get; private set; }

    /// <summary>Takes in readings that are new in the journal.</summary>
    public IReadOnlyList<WatchEvent> Step(IReadOnlyList<Reading> readings, Instant now)
    {
        var settled = SettledAt(now);
        for (var i = 0; i < readings.Count; i++)
        {
            Take(readings[i], settled);
        }

        return Tell(now);
    }

    /// <summary>Takes in other facts: the whole of them.</summary>
    public IReadOnlyList<WatchEvent> Step(HomeFacts newFacts, Instant now)
    {
        var changed = newFacts.Limits != facts.Limits || !newFacts.Zone.Equals(facts.Zone) ? 0 : OutageList.FirstDifference(facts, newFacts);
        if (!newFacts.Zone.Equals(facts.Zone))
        {
            drift.StartAfresh();
        }

        facts = newFacts;
        limits = new(facts.Limits, facts.Zone);
        AdoptPlaces(changed);

        // What people have just done counts at once; readings that are still on their way are then folded again.
        return Advance(now.ToUnixTimeTicks(), now);
    }

    /// <summary>Lets time pass. Call it every minute or so.</summary>
    public IReadOnlyList<WatchEvent> Step(Instant now) => Advance(SettledAt(now), now);

    /// <summary>Folds a place again, as asked for by <see cref="RefoldNeeded"/>.</summary>
    /// <param name="request">What was asked for.</param>
    /// <param name="read">The journal: readings of a probe from an instant on (null: all), in order of time.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Refold(RefoldNeeded request, Func<ProbeId, Instant?, IEnumerable<Reading>> read, Instant now)
    {
        if (places.TryGetValue(request.Place, out var place))
        {
            place.Refold(InOrder.Merge(place.Probes.Select(probe => read(probe, request.From))), SettledAt(now));
        }

        return Step(now);
    }

    /// <summary>Folds everything from the journal, after a start. Says only what differs from the stored alerts.</summary>
    /// <param name="read">The journal: readings of a probe, in order of time, from as far back as is wanted.</param>
    /// <param name="now">The present.</param>
    /// <param name="earlier">Temperatures of a probe from before that, in order of time: what is usual on a spot is learnt from them, and nothing else.</param>
    public IReadOnlyList<WatchEvent> Rebuild(Func<ProbeId, IEnumerable<Reading>> read, Instant now, Func<ProbeId, IEnumerable<TemperatureSample>>? earlier = null)
    {
        foreach (var place in places.Values.Where(place => earlier is not null && place.Place.Spot is not null))
        {
            EarlierHours.Write(place.Hours, place.Place.Spot!.Value, facts, earlier!);
        }

        foreach (var place in places.Values)
        {
            // Everything up to now counts: what was said just before the restart must not be taken back until it settles.
            place.Refold(InOrder.Merge(place.Probes.Select(read)), now.ToUnixTimeTicks());
        }

        RefoldCarried(read, now);
        return Step(now);
    }

    /// <summary>All alerts as they stand: those open, and the last ones closed of each place, in order of opening.</summary>
    public IReadOnlyList<Alert> Alerts() =>
        [.. places.Values.SelectMany(place => place.Told.Where(alert => !alert.IsOpen).Concat(Present(place).Where(alert => alert.IsOpen)))
            .Concat(batchesTold).Concat(home.Told).Concat(refused.Told)
            .OrderBy(alert => alert.OpenedAt).ThenBy(alert => alert.Kind).ThenBy(alert => alert.Subject.Name, StringComparer.Ordinal)];

    /// <summary>The alerts open now.</summary>
    public IReadOnlyList<Alert> Open() => [.. Alerts().Where(alert => alert.IsOpen)];

    /// <summary>What the places say by themselves, before causes are put together: a function of readings and facts alone.</summary>
    internal IEnumerable<Alert> Folded() => places.Values.SelectMany(place => place.Watch.Alerts()).Concat(drift.Alerts())
        .OrderBy(alert => alert.OpenedAt).ThenBy(alert => alert.Kind).ThenBy(alert => alert.Subject.Name, StringComparer.Ordinal);

    private List<WatchEvent> Advance(long upTo, Instant now)
    {
        foreach (var place in places.Values)
        {
            place.Advance(upTo);
        }

        return Tell(now);
    }

    private long SettledAt(Instant now) => now.ToUnixTimeTicks() - limits.Settle;

    private void Take(in Reading reading, long settled)
    {
        if (!routes.TryGetValue(reading.Probe, out var route))
        {
            if (strangers.Count >= StrangerMax)
            {
                NotWatched++;
                return;
            }

            strangers.Add(reading.Probe);
            AdoptPlaces(long.MaxValue);
            route = routes[reading.Probe];
        }

        var at = reading.MeasuredAt.ToUnixTimeTicks();
        route.At(at).Take(reading, at, settled);
    }

    /// <summary>Lays the facts on the places.</summary>
    /// <param name="changed">From when on something other than the places' own changes is different, Unix ticks.</param>
    private void AdoptPlaces(long changed)
    {
        routes.Clear();
        var probes = facts.Probes.Select(probe => probe.Id).Concat(facts.Stations.Select(station => station.Probe)).Concat(strangers).ToHashSet();
        var spots = facts.Spots.Select(spot => spot.Id).Concat(facts.Stations.Select(station => station.Spot)).ToHashSet();
        foreach (var spot in spots)
        {
            Adopt(Place.Of(spot), PlaceTimeline.OfSpot(spot, facts, CarriedTo), changed);
        }

        foreach (var probe in probes)
        {
            Adopt(Place.Of(probe), PlaceTimeline.OfLone(probe, facts), changed);
            routes[probe] = new(places[Place.Of(probe)], facts.Stations.Where(station => station.Probe == probe).Select(station => (station.When, places[Place.Of(station.Spot)])));
        }

        var wanted = spots.Select(Place.Of).Concat(probes.Select(Place.Of)).ToHashSet();
        foreach (var gone in places.Keys.Where(place => !wanted.Contains(place)).ToList())
        {
            departed.AddRange(places[gone].Told.Where(alert => alert.IsOpen));
            places.Remove(gone);
            drift.StartAfresh();
        }
    }

    private void Adopt(Place place, PlaceTimeline timeline, long changed)
    {
        var outages = OutageList.Of(place, facts);
        if (places.TryGetValue(place, out var known))
        {
            known.Adopt(timeline, limits, outages, changed);
            return;
        }

        var fold = new PlaceFold(place, timeline, limits, outages, new HourLog(drift.NoteChange));
        fold.Told.AddRange(stored.Where(alert => IsAbout(alert, fold)));
        places[place] = fold;
    }
}
