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

    // A clock that is set by less goes on as it is.
    private static readonly Duration ClockStep = Duration.FromMinutes(2);

    private readonly Dictionary<Place, PlaceFold> places = [];
    private readonly Dictionary<ProbeId, Route> routes = [];
    private readonly HashSet<ProbeId> strangers = [];
    private readonly List<Alert> stored;
    private readonly Instant toldUpTo;
    private readonly DriftWatch drift = new();
    private HomeFacts facts;
    private WatchTicks limits;
    private Instant latest = Instant.MinValue;

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
        probesTold.AddRange(this.stored.Where(alert => alert.Subject.Kind == SubjectKind.Probe && !IsOfRefusals(alert)));
        refused.Know(facts.Probes.Select(probe => probe.Id));
        refused.Resume(this.stored.Where(IsOfRefusals));
        AdoptPlaces(long.MaxValue);
    }

    /// <summary>Readings of probes beyond <see cref="StrangerMax"/> undeclared ones, which are not watched.</summary>
    public long NotWatched { get; private set; }

    /// <summary>Readings that a journal gave out of order, which are not counted.</summary>
    public long OutOfOrder => places.Values.Sum(place => place.OutOfOrder);

    /// <summary>Takes in readings that are new in the journal.</summary>
    public IReadOnlyList<WatchEvent> Step(IReadOnlyList<Reading> readings, Instant now)
    {
        NoteClock(now);
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
        NoteClock(now);
        var changed = newFacts.Limits != facts.Limits || !newFacts.Zone.Equals(facts.Zone) ? 0 : OutageList.FirstDifference(facts, newFacts);
        if (!newFacts.Zone.Equals(facts.Zone))
        {
            drift.StartAfresh();
        }

        facts = newFacts;
        refused.Know(facts.Probes.Select(probe => probe.Id));
        limits = new(facts.Limits, facts.Zone);
        AdoptPlaces(changed);

        // What people have just done counts at once; readings that are still on their way are then folded again.
        return Advance(now.ToUnixTimeTicks(), now);
    }

    /// <summary>Lets time pass. Call it every minute or so.</summary>
    public IReadOnlyList<WatchEvent> Step(Instant now)
    {
        NoteClock(now);
        return Advance(SettledAt(now), now);
    }

    /// <summary>Folds a place again, as asked for by <see cref="RefoldNeeded"/>.</summary>
    /// <param name="request">What was asked for.</param>
    /// <param name="read">The journal: readings of a probe from an instant on (null: all), in order of time.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Refold(RefoldNeeded request, Func<ProbeId, Instant?, IEnumerable<Reading>> read, Instant now)
    {
        if (places.TryGetValue(request.Place, out var place))
        {
            // All of them before anything is undone: where a page cannot be read, the place stays as it was.
            List<Reading> readings = [.. InOrder.Merge(place.Probes.Select(probe => read(probe, request.From)))];
            place.Refold(readings, SettledAt(now));
        }

        return Step(now);
    }

    /// <summary>Folds everything from the journal, after a start. Says only what differs from the stored alerts.</summary>
    /// <param name="past">The journal, and what else is known of the time before.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Rebuild(WatchPast past, Instant now)
    {
        NoteClock(now);
        Welcome(past.Heard.Where(heard => heard.At >= past.From).Select(heard => heard.Probe));
        var reach = new RebuildReach(facts, stored, past, now);
        foreach (var place in places.Values.Where(place => past.Earlier is not null && place.Place.Spot is not null))
        {
            EarlierHours.Write(place.Hours, place.Place.Spot!.Value, facts, probe => past.Earlier!(probe, reach.Of(place.Place, probe)));
        }

        foreach (var place in places.Values)
        {
            // Everything up to now counts: what was said just before the restart must not be taken back until it settles.
            place.Refold(InOrder.Merge(place.Probes.Select(probe => past.Read(probe, reach.Of(place.Place, probe)))), now.ToUnixTimeTicks());
        }

        refusedUpTo = now;
        foreach (var refusal in past.Refusals)
        {
            refused.Take(refusal);
        }

        if (past.WatchedUpTo is { } watched)
        {
            drift.Resume(stored.Where(alert => alert.IsOpen && alert.Kind is AlertKind.Drifting or AlertKind.ProbesDisagree), watched);
        }

        RefoldCarried((place, probe) => past.Read(probe, reach.Of(place, probe)), now);
        return Step(now);
    }

    /// <summary>The same from readings alone, as many as are given.</summary>
    /// <param name="read">The journal: readings of a probe, in order of time.</param>
    /// <param name="now">The present.</param>
    /// <param name="earlier">Temperatures of a probe from before that, in order of time.</param>
    public IReadOnlyList<WatchEvent> Rebuild(Func<ProbeId, IEnumerable<Reading>> read, Instant now, Func<ProbeId, IEnumerable<TemperatureSample>>? earlier = null) =>
        Rebuild(new((probe, _) => read(probe), now) { Earlier = earlier is null ? null : (probe, _) => earlier(probe) }, now);

    /// <summary>All alerts as they stand: those open, and the last ones closed of each place, in order of opening.</summary>
    public IReadOnlyList<Alert> Alerts() =>
        [.. places.Values.SelectMany(place => place.Told.Where(alert => !alert.IsOpen).Concat(Present(place).Where(alert => alert.IsOpen)))
            .Concat(batchesTold).Concat(probesTold).Concat(home.Told).Concat(refused.Told)
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

    // A clock that was put back takes with it what was reckoned for a time that is still to come.
    private void NoteClock(Instant now)
    {
        if (now + ClockStep < latest)
        {
            foreach (var place in places.Values)
            {
                place.TurnBack(now.ToUnixTimeTicks());
            }

            latest = now;
        }

        latest = Instant.Max(latest, now);
    }

    // Probes that nobody has set up, as far as there is room for them.
    private void Welcome(IEnumerable<ProbeId> heard)
    {
        var known = facts.Probes.Select(probe => probe.Id).Concat(facts.Stations.Select(station => station.Probe)).ToHashSet();
        var told = stored.Where(alert => alert.Subject.Kind == SubjectKind.Probe && (alert.IsOpen || alert.CloseReason == CloseReason.OtherCause)).Select(alert => new ProbeId(alert.Subject.Name));
        strangers.UnionWith(told.Concat(heard).Where(probe => !known.Contains(probe)).Distinct().Take(StrangerMax));
        AdoptPlaces(long.MaxValue);
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
            Depart(places[gone]);
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
