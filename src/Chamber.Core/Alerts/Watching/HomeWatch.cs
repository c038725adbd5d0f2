using System.Runtime.InteropServices;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Conditions.Drifting;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>
/// The watch over a home: a fold over readings, facts and time. The state is this object; each method is a step that takes an
/// input and the present instant, and returns what there is to say. It reads no clock and does no I/O, and the alerts that it ends with
/// depend on the readings and facts alone, not on the order in which they came. Not thread-safe: one writer.
/// </summary>
public sealed class HomeWatch
{
    /// <summary>From this temperature on, °C, a reading may be a hazard by the limits that nobody has changed: whoever gathers readings
    /// gives it to the watch at once.</summary>
    public static double UrgentCelsius { get; } = LocationFold.UrgentFrom(ConditionRegistry.Standard, new());

    /// <summary>Probes that nobody has declared are watched up to this many.</summary>
    public const int StrangerMax = WatchedLocations.StrangerMax;

    // A clock that is set by less goes on as it is.
    private static readonly Duration ClockStep = Duration.FromMinutes(2);

    /// <summary>Readings of one location may arrive out of order by so much before the location is folded again from a
    /// checkpoint.</summary>
    private static readonly TimeSpan Settle = TimeSpan.FromMinutes(2);

    private readonly ConditionSet conditions;
    private readonly List<Alert> stored;
    private readonly HomeDrift drift = new();
    private readonly WatchedLocations locations;
    private readonly RefusalFold refused;
    private readonly HomeReport report;
    private HomeFacts facts;
    private Instant latest = Instant.MinValue;

    /// <param name="facts">What the ledger knows.</param>
    /// <param name="stored">What was said before a restart, from the ledger: the open alerts, and those closed within the time that will be
    /// folded again.</param>
    /// <param name="reportedUpTo">From where on <paramref name="stored"/> is whole: what the facts alone say of times before it is not
    /// reported again.</param>
    public HomeWatch(HomeFacts facts, IReadOnlyList<Alert>? stored = null, Instant? reportedUpTo = null)
        : this(ConditionRegistry.Standard, facts, stored, reportedUpTo)
    {
    }

    internal HomeWatch(ConditionSet conditions, HomeFacts facts, IReadOnlyList<Alert>? stored = null, Instant? reportedUpTo = null)
    {
        ArgumentNullException.ThrowIfNull(facts);
        this.conditions = conditions;
        this.facts = facts;
        this.stored = [.. stored ?? []];
        locations = new(conditions, drift.NoteChange);
        refused = new(conditions);
        report = new(this.stored, reportedUpTo ?? Instant.MinValue, locations, drift, refused);
        Adopt(Moment.Never, Moment.Beginning);
    }

    /// <summary>What every watch refers to and none changes: the conditions. The rest of it is its own.</summary>
    public static IReadOnlyList<object> SharedByAll { get; } = [ConditionRegistry.Standard, .. ConditionRegistry.Standard];

    /// <summary>Readings of probes beyond <see cref="StrangerMax"/> undeclared ones, which are not watched.</summary>
    public long NotWatched { get; private set; }

    /// <summary>Readings that a journal gave out of order, which are not counted.</summary>
    public long OutOfOrder => locations.All.Sum(location => location.OutOfOrder);

    /// <summary>Takes in readings that are new in the journal.</summary>
    public IReadOnlyList<WatchEvent> Step(IReadOnlyList<Reading> readings, Instant now)
    {
        ArgumentNullException.ThrowIfNull(readings);
        NoteClock(now);
        var settled = SettledAt(now);
        foreach (ref readonly var reading in SpanOf(readings))
        {
            Take(reading, settled);
        }

        return report.Write(facts, now);
    }

    /// <summary>Takes in what arrived and is not used, in order of arrival.</summary>
    public IReadOnlyList<WatchEvent> Step(IReadOnlyList<Refusal> refusals, Instant now)
    {
        ArgumentNullException.ThrowIfNull(refusals);
        foreach (var refusal in refusals)
        {
            refused.Take(refusal);
        }

        return report.Write(facts, now);
    }

    /// <summary>Takes in other facts: the whole of them.</summary>
    public IReadOnlyList<WatchEvent> Step(HomeFacts newFacts, Instant now)
    {
        ArgumentNullException.ThrowIfNull(newFacts);
        var heardUpTo = Moment.Of(latest);
        NoteClock(now);
        var isOtherZone = !newFacts.Zone.Equals(facts.Zone);
        var changed = isOtherZone || !newFacts.Limits.Equals(facts.Limits) ? Moment.Beginning : OutageList.FirstDifference(facts, newFacts);
        if (isOtherZone)
        {
            drift.StartAfresh();
        }

        facts = newFacts;
        Adopt(changed, heardUpTo);

        // What people have just done counts at once; readings that are still on their way are then folded again.
        return Advance(Moment.Of(now), now);
    }

    /// <summary>Lets time pass. Call it every minute or so.</summary>
    public IReadOnlyList<WatchEvent> Step(Instant now)
    {
        NoteClock(now);
        return Advance(SettledAt(now), now);
    }

    /// <summary>Folds a location again, as asked for by <see cref="RefoldNeeded"/>.</summary>
    /// <param name="request">What was asked for.</param>
    /// <param name="past">The journal, as for a start: a location that is folded from its beginning needs as much of it.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Refold(RefoldNeeded request, WatchPast past, Instant now)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(past);
        if (locations.Find(request.Location) is { } location)
        {
            var reach = new RebuildReach(facts, Alerts(), past, now);
            var from = location.RefoldFrom;
            if (from is null)
            {
                location.SilenceFrom = reach.SilenceOf(location.Location);
            }

            // All of them before anything is undone: where a page cannot be read, the location stays as it was.
            List<Reading> readings =
                [.. InOrder.Merge(location.Probes.Select(probe => past.Read(probe, from ?? reach.Of(location.Location, probe))))];
            if (from is null && Earlier(location, past, reach) is { } earlier)
            {
                // What was put right may lie before the time that is folded: what is usual is then learnt from other hours.
                location.Hours.Begin(earlier);
            }

            location.Refold(readings, SettledAt(now));
        }

        return Step(now);
    }

    /// <summary>The same from all readings that there are.</summary>
    /// <param name="request">What was asked for.</param>
    /// <param name="read">The journal: readings of a probe from an instant on (null: all), in order of time.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Refold(RefoldNeeded request, Func<ProbeId, Instant?, IEnumerable<Reading>> read, Instant now) =>
        Refold(request, new WatchPast((probe, from) => read(probe, from == Instant.MinValue ? null : from), Instant.MinValue), now);

    /// <summary>Folds everything from the journal, after a start. Says only what differs from the stored alerts.</summary>
    /// <param name="past">The journal, and what else is known of the time before.</param>
    /// <param name="now">The present.</param>
    public IReadOnlyList<WatchEvent> Rebuild(WatchPast past, Instant now)
    {
        ArgumentNullException.ThrowIfNull(past);
        NoteClock(now);
        Welcome(past);
        var reach = new RebuildReach(facts, stored, past, now);
        foreach (var location in locations.All)
        {
            location.SilenceFrom = reach.SilenceOf(location.Location);
            if (Earlier(location, past, reach) is { } earlier)
            {
                location.Hours.Begin(earlier);
            }

            // Everything up to now counts: what was said just before the restart must not be taken back until it settles.
            location.Refold(InOrder.Merge(location.Probes.Select(probe => past.Read(probe, reach.Of(location.Location, probe)))),
                Moment.Of(now));
        }

        report.RefusedUpTo = now;
        foreach (var refusal in past.Refusals)
        {
            refused.Take(refusal);
        }

        if (past.WatchedUpTo is { } watched)
        {
            drift.Resume(
                stored.Where(alert => alert.IsOpen && (alert.Kind == AlertKind.Drifting || alert.Kind == AlertKind.ProbesDisagree)),
                watched);
        }

        locations.RefoldCarried(facts, (location, probe) => past.Read(probe, reach.Of(location, probe)), Moment.Of(now));
        return Step(now);
    }

    /// <summary>The same from readings alone, as many as are given.</summary>
    /// <param name="read">The journal: readings of a probe, in order of time.</param>
    /// <param name="now">The present.</param>
    /// <param name="earlier">Temperatures of a probe from before that, in order of time.</param>
    public IReadOnlyList<WatchEvent> Rebuild(Func<ProbeId, IEnumerable<Reading>> read, Instant now,
        Func<ProbeId, IEnumerable<TemperatureSample>>? earlier = null) =>
        Rebuild(new((probe, _) => read(probe), now) { Earlier = earlier is null ? null : (probe, _) => earlier(probe) }, now);

    /// <summary>All alerts as they stand: those open, and the last ones closed of each location, in order of opening.</summary>
    public IReadOnlyList<Alert> Alerts() => [.. InTurn(report.Alerts(facts))];

    /// <summary>The alerts open now.</summary>
    public IReadOnlyList<Alert> Open() => [.. Alerts().Where(alert => alert.IsOpen)];

    /// <summary>What the locations say by themselves, before causes are put together: a function of readings and facts alone.</summary>
    internal IEnumerable<Alert> Folded() => InTurn(locations.All.SelectMany(location => location.Watch.Alerts()).Concat(drift.Alerts()));

    private IOrderedEnumerable<Alert> InTurn(IEnumerable<Alert> alerts) => alerts.OrderBy(alert => alert.OpenedAt)
        .ThenBy(alert => alert.Kind, Comparer<AlertKind>.Create(conditions.Compare))
            .ThenBy(alert => alert.Subject.Name, StringComparer.Ordinal);

    // The hours of a spot from before the time that is folded; null where they are not known.
    private IReadOnlyList<HourEntry>? Earlier(LocationFold location, WatchPast past, RebuildReach reach) =>
        past.Earlier is { } read && location.Location.Spot is { } spot
            ? EarlierHours.Of(spot, facts, probe => read(probe, reach.Of(location.Location, probe)))
            : null;

    private List<WatchEvent> Advance(Moment upTo, Instant now)
    {
        foreach (var location in locations.All)
        {
            location.Advance(upTo);
        }

        return report.Write(facts, now);
    }

    // A reading is long, and an interface would copy each.
    private static ReadOnlySpan<Reading> SpanOf(IReadOnlyList<Reading> readings) => readings switch
    {
        Reading[] array => array,
        List<Reading> list => CollectionsMarshal.AsSpan(list),
        ArraySegment<Reading> segment => segment,
        _ => readings.ToArray(),
    };

    private static Moment SettledAt(Instant now) => Moment.Of(now) - Settle;

    // A clock that was put back takes with it what was reckoned for a time that is still to come.
    private void NoteClock(Instant now)
    {
        if (now + ClockStep < latest)
        {
            foreach (var location in locations.All)
            {
                location.TurnBack(Moment.Of(now));
            }

            latest = now;
        }

        latest = Instant.Max(latest, now);
    }

    // Probes that nobody has set up, as far as there is room for them.
    private void Welcome(WatchPast past)
    {
        var told = stored.Where(alert => alert.Subject.Kind == SubjectKind.Probe
            && (alert.IsOpen || alert.CloseReason == CloseReason.OtherCause)).Select(alert => new ProbeId(alert.Subject.Name));
        var heard = past.Heard.Where(heard => heard.At >= past.From).Select(heard => heard.Probe);
        if (locations.Welcome(told.Concat(heard), facts))
        {
            Adopt(Moment.Never, Moment.Beginning);
        }
    }

    private void Take(in Reading reading, Moment settled)
    {
        if (locations.RouteOf(reading.Probe) is not { } route)
        {
            if (!locations.Welcome([reading.Probe], facts))
            {
                NotWatched++;
                return;
            }

            Adopt(Moment.Never, Moment.Beginning);
            route = locations.RouteOf(reading.Probe)!;
        }

        var at = Moment.Of(reading.MeasuredAt);
        route.At(at).Take(reading, at, settled);
    }

    private void Adopt(Moment changed, Moment heardUpTo)
    {
        refused.Know(facts.Probes.Select(probe => probe.Id));
        foreach (var gone in locations.Adopt(facts, changed, heardUpTo, report.Begin))
        {
            report.End(gone);
            drift.StartAfresh();
        }
    }
}
