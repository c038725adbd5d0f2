using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Everything the facts say of one location, in order of time: made again whenever a fact is written, corrected or taken back, and
/// where it differs from the one before, the location is folded again from there.</summary>
internal sealed class LocationTimeline
{
    private readonly LocationChange[] changes;

    private LocationTimeline(IEnumerable<LocationChange> changes) =>
        this.changes = [.. changes.Distinct().OrderBy(change => change.At).ThenBy(change => change.Order)
            .ThenBy(change => change.About, StringComparer.Ordinal)];

    public int Count => changes.Length;

    public LocationChange this[int index] => changes[index];

    /// <summary>The probes that stand or stood here.</summary>
    public IEnumerable<ProbeId> Probes => changes.OfType<ProbeArrives>().Select(change => change.Probe.Id).Distinct();

    /// <summary>When the first probe came of whose coming another timeline knows nothing: what it has said since was folded elsewhere.
    /// Never when there is none.</summary>
    public Moment FirstArrivalBeyond(LocationTimeline? other)
    {
        var known = other?.changes.OfType<ProbeArrives>().ToHashSet();
        return changes.OfType<ProbeArrives>().Where(change => known?.Contains(change) != true).Select(change => change.At)
            .FirstOrDefault(Moment.Never);
    }

    /// <summary>When the change of an index takes effect; never beyond the last one.</summary>
    public Moment AtOf(int index) => index < changes.Length ? changes[index].At : Moment.Never;

    /// <summary>How many changes lie at or before a moment.</summary>
    public int CountUpTo(Moment at) => changes.TakeWhile(change => change.At <= at).Count();

    /// <summary>The first moment from which the two say different things; null when they never do.</summary>
    public Moment? FirstDifference(LocationTimeline other)
    {
        var different = new HashSet<LocationChange>(changes);
        different.SymmetricExceptWith(other.changes);
        return different.Count == 0 ? null : different.Min(change => change.At);
    }

    /// <param name="spot">Which spot.</param>
    /// <param name="facts">What the ledger knows.</param>
    /// <param name="carried">What a batch brings along to its stay of a number; null for nothing.</param>
    public static LocationTimeline OfSpot(SpotId spot, HomeFacts facts, Func<Batch, int, BatchDeparture?> carried)
    {
        var light = facts.Spots.FirstOrDefault(known => known.Id == spot)?.Light ?? LightLevel.Dim;
        var probes = facts.Stations.Where(station => station.Spot == spot)
            .SelectMany(station => OfProbe(station.Probe, station.When, facts));
        var batches =
            from watched in facts.Batches
            from stay in watched.Batch.Stays.Index()
            where stay.Item.Spot == spot
            let own = facts.OwnLimitsOf(watched.Batch.Id, spot)
            from change in OfBatch(watched, stay.Index, light, own, carried(watched.Batch, stay.Index))
            select change;
        var surveys = facts.Surveys.Where(survey => survey.Spot == spot).Select(survey => new Surveyed(
            Moment.Of(survey.At), survey.Mean,
                new(survey.Hours ?? [.. Enumerable.Repeat((double?)survey.Mean.Celsius, Hours24<double>.Count)])));
        return new([.. probes, .. batches, .. surveys]);
    }

    /// <summary>The time of a probe outside all its stations.</summary>
    public static LocationTimeline OfLone(ProbeId probe, HomeFacts facts)
    {
        var from = Instant.MinValue;
        var changes = new List<LocationChange>();
        foreach (var when in facts.Stations.Where(station => station.Probe == probe).Select(station => station.When).OrderBy(StartOf))
        {
            if (StartOf(when) > from)
            {
                changes.AddRange(OfProbe(probe, new(from == Instant.MinValue ? null : from, StartOf(when)), facts));
            }

            from = when.HasEnd ? Instant.Max(from, when.End) : Instant.MaxValue;
        }

        if (from < Instant.MaxValue)
        {
            changes.AddRange(OfProbe(probe, new(from == Instant.MinValue ? null : from, null), facts));
        }

        return new(changes);
    }

    /// <summary>When a stay of a batch ends, by its own end or the batch's.</summary>
    public static Moment EndOf(Batch batch, int stay) => Moment.Earlier(
        Moment.EndOf(batch.Stays[stay].When), batch.EndedAt is { } ended ? Moment.Of(ended) : Moment.Never);

    private static Instant StartOf(Interval interval) => interval.HasStart ? interval.Start : Instant.MinValue;

    private static IEnumerable<LocationChange> OfProbe(ProbeId id, Interval when, HomeFacts facts)
    {
        var (start, end) = (Moment.StartOf(when), Moment.EndOf(when));
        var probe = facts.Probes.FirstOrDefault(known => known.Id == id) ?? new(id, Measurand.Air, Probe.DefaultMaxGap);
        yield return new ProbeArrives(start, probe, facts.HandRead.Contains(id));
        if (when.HasEnd)
        {
            yield return new ProbeLeaves(end, id);
        }

        foreach (var calibration in facts.Calibrations.Where(known => known.Probe == id).OrderBy(known => known.From))
        {
            // One that was in force before the probe came here is in force from its coming on.
            var at = Moment.Later(start, Moment.Of(calibration.From));
            if (at < end)
            {
                yield return new Calibrated(at, calibration);
            }
        }

        foreach (var span in facts.SetAside.Where(known => known.Probe == id).Select(known => known.When))
        {
            var (from, until) = (Moment.Later(start, Moment.StartOf(span)), Moment.EndOf(span));
            if (from < Moment.Earlier(until, end))
            {
                yield return new ReadingsPassedOver(from, id, until);
            }
        }
    }

    private static IEnumerable<LocationChange> OfBatch(WatchedBatch watched, int stay, LightLevel light,
        (double? Hot, double? Cold) own, BatchDeparture? carried)
    {
        var batch = watched.Batch;
        var start = Moment.Later(Moment.StartOf(batch.Stays[stay].When), Moment.Of(batch.SownAt));
        var end = EndOf(batch, stay);
        if (end <= start)
        {
            yield break;
        }

        yield return new BatchArrives(start, BatchTerms.Of(watched, light, own, StandingAt(watched, start)));
        if (carried is not null)
        {
            yield return new BatchBrings(start, carried);
        }

        if (end < Moment.Never)
        {
            yield return new BatchLeaves(end, batch.Id);
        }

        foreach (var change in Notes(watched))
        {
            // What lies before counts as the batch stood when it came, and as what it brought along; only its water starts the clocks of a
            // new location.
            var counts = change.At >= start || change is Wetted || (stay == 0 && change is LookWanted or WaitingOver);
            var at = Moment.Later(start, change.At);
            if (counts && at < end)
            {
                yield return change with { At = at };
            }
        }
    }

    private static BatchStanding StandingAt(WatchedBatch watched, Moment start)
    {
        var looks = watched.Batch.Looks.Where(look => look.Up > 0 && Moment.Of(look.At) < start).ToList();
        return new(
            looks.Select(look => look.Up).DefaultIfEmpty(0).Max(),
            looks.Count == 0 ? null : Moment.Of(looks.Min(look => look.At)),
            watched.CoverOffAt is { } off && Moment.Of(off) < start);
    }

    private static IEnumerable<BatchChange> Notes(WatchedBatch watched)
    {
        var id = watched.Batch.Id;
        foreach (var wetting in watched.Wettings)
        {
            yield return new Wetted(Moment.Of(wetting), id);
        }

        foreach (var look in watched.Batch.Looks)
        {
            yield return new Looked(Moment.Of(look.At), id, look.Up);
        }

        if (watched.CoverOffAt is { } off)
        {
            yield return new CoverTakenOff(Moment.Of(off), id);
        }

        if (watched.LookFrom is { } look2)
        {
            yield return new LookWanted(Moment.Of(look2.At), id, look2.Chance);
        }

        if (watched.StopWaitingFrom is { } stop)
        {
            yield return new WaitingOver(Moment.Of(stop.At), id, stop.Chance, stop.Why);
        }
    }
}
