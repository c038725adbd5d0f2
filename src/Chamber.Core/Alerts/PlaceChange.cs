using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What changes at a place, in the order in which changes of one instant apply.</summary>
internal enum ChangeKind
{
    ProbeGoes,
    BatchGoes,
    ProbeComes,
    Calibrated,
    Surveyed,
    BatchComes,
    BatchCarried,
    Wetted,
    CoverOff,
    Looked,
    LookDue,
    WaitingOver,
}

/// <summary>A fact that takes effect at a place at an instant. Equal when it says the same.</summary>
/// <param name="At">Unix ticks.</param>
/// <param name="Kind">What sort of change.</param>
/// <param name="Key">All that makes it different from another one, as text.</param>
/// <param name="What">The thing itself.</param>
internal readonly record struct PlaceChange(long At, ChangeKind Kind, string Key, object What)
{
    public bool Equals(PlaceChange other) => At == other.At && Kind == other.Kind && Key == other.Key;

    public override int GetHashCode() => HashCode.Combine(At, Kind, Key);
}

/// <summary>A probe as it stands at a place.</summary>
internal sealed record ProbeTerms(Probe Probe, bool HandRead);

/// <summary>A batch as it stands at a place.</summary>
internal sealed record BatchTerms(WatchedBatch Watched, LightLevel Light, BatchStanding Before);

/// <summary>Something about one batch: how many were up, or a chance.</summary>
internal sealed record BatchNote(BatchId Batch, ChangeKind Kind, double Value, CauseKind? Why);

/// <summary>Everything the facts say of one place, in order of time.</summary>
internal sealed class PlaceTimeline
{
    private readonly PlaceChange[] changes;

    private PlaceTimeline(IEnumerable<PlaceChange> changes) =>
        this.changes = [.. changes.Distinct().OrderBy(change => change.At).ThenBy(change => change.Kind).ThenBy(change => change.Key, StringComparer.Ordinal)];

    public int Count => changes.Length;

    public PlaceChange this[int index] => changes[index];

    /// <summary>When the index of the next change is <paramref name="next"/>, the instant of it.</summary>
    public long AtOf(int next) => next < changes.Length ? changes[next].At : long.MaxValue;

    /// <summary>How many changes lie at or before an instant.</summary>
    public int CountUpTo(long at) => changes.TakeWhile(change => change.At <= at).Count();

    /// <summary>The first instant from which the two say different things; null when they never do.</summary>
    public long? FirstDifference(PlaceTimeline other)
    {
        var different = new HashSet<PlaceChange>(changes);
        different.SymmetricExceptWith(other.changes);
        return different.Count == 0 ? null : different.Min(change => change.At);
    }

    /// <param name="spot">Which spot.</param>
    /// <param name="facts">What the ledger knows.</param>
    /// <param name="carried">What a batch brings along to its stay of a number; null for nothing.</param>
    public static PlaceTimeline OfSpot(SpotId spot, HomeFacts facts, Func<Batch, int, BatchDeparture?> carried)
    {
        var light = facts.Spots.FirstOrDefault(known => known.Id == spot)?.Light ?? LightLevel.Dim;
        var probes = facts.Stations.Where(station => station.Spot == spot)
            .SelectMany(station => ProbeChanges(station.Probe, station.When, facts));
        var batches = facts.Batches.SelectMany(batch => batch.Batch.Stays.Select((stay, index) => (Stay: stay, Index: index)).Where(stay => stay.Stay.Spot == spot)
            .SelectMany(stay => BatchChanges(batch, stay.Index, light, carried(batch.Batch, stay.Index))));
        var surveys = facts.Surveys.Where(survey => survey.Spot == spot)
            .Select(survey => new PlaceChange(Ticks(survey.At), ChangeKind.Surveyed, $"{survey.Mean.Celsius:R} {string.Join(' ', survey.Hours ?? [])}", survey));
        return new(probes.Concat(batches).Concat(surveys));
    }

    /// <summary>The time of a probe outside all its stations.</summary>
    public static PlaceTimeline OfLone(ProbeId probe, HomeFacts facts)
    {
        var from = Instant.MinValue;
        var changes = new List<PlaceChange>();
        foreach (var when in facts.Stations.Where(station => station.Probe == probe).Select(station => station.When).OrderBy(StartOf))
        {
            if (StartOf(when) > from)
            {
                changes.AddRange(ProbeChanges(probe, new(from == Instant.MinValue ? null : from, StartOf(when)), facts));
            }

            from = when.HasEnd ? Instant.Max(from, when.End) : Instant.MaxValue;
        }

        if (from < Instant.MaxValue)
        {
            changes.AddRange(ProbeChanges(probe, new(from == Instant.MinValue ? null : from, null), facts));
        }

        return new(changes);
    }

    private static Instant StartOf(Interval interval) => interval.HasStart ? interval.Start : Instant.MinValue;

    private static IEnumerable<PlaceChange> ProbeChanges(ProbeId id, Interval when, HomeFacts facts)
    {
        var probe = facts.Probes.FirstOrDefault(known => known.Id == id) ?? new(id, Measurand.Air, Probe.DefaultMaxGap);
        var handRead = facts.HandRead.Contains(id);
        var start = Ticks(StartOf(when));
        yield return new(start, ChangeKind.ProbeComes, $"{id} {probe.Measurand} {probe.MaxGap} {handRead}", new ProbeTerms(probe, handRead));
        if (when.HasEnd)
        {
            yield return new(Ticks(when.End), ChangeKind.ProbeGoes, id.Text, id);
        }

        foreach (var calibration in facts.Calibrations.Where(known => known.Probe == id))
        {
            // One that was in force before the probe came here is in force from its coming on.
            var at = Math.Max(start, Ticks(calibration.From));
            if (!when.HasEnd || at < Ticks(when.End))
            {
                yield return new(at, ChangeKind.Calibrated, $"{id} {calibration.From} {calibration.Offset.Kelvins:R} {calibration.DryRaw:R} {calibration.SaturatedRaw:R} {calibration.HumidityPoints:R}", calibration);
            }
        }
    }

    /// <summary>When a stay of a batch ends, by its own end or the batch's, Unix ticks.</summary>
    public static long EndOf(Batch batch, int stay) => Math.Min(
        batch.Stays[stay].When is { HasEnd: true, End: var end } ? Ticks(end) : long.MaxValue,
        batch.EndedAt is { } ended ? Ticks(ended) : long.MaxValue);

    private static IEnumerable<PlaceChange> BatchChanges(WatchedBatch watched, int stay, LightLevel light, BatchDeparture? carried)
    {
        var batch = watched.Batch;
        var start = Ticks(Instant.Max(StartOf(batch.Stays[stay].When), batch.SownAt));
        var end = EndOf(batch, stay);
        if (end <= start)
        {
            yield break;
        }

        var crop = watched.Crop;
        var before = StandingAt(watched, start);
        var key = $"{batch.Id} {crop.Id} {crop.Profile.Cardinals} {crop.CoolLimit.Celsius:R} {crop.HotLimit.Celsius:R} {batch.Method} {light} {batch.Seeds} {batch.SownAt} {watched.HasCover} {crop.Guide?.GrowingDay} {before}";
        yield return new(start, ChangeKind.BatchComes, key, new BatchTerms(watched, light, before));
        if (carried is not null)
        {
            yield return new(start, ChangeKind.BatchCarried, carried.Key, carried);
        }
        if (end < long.MaxValue)
        {
            yield return new(end, ChangeKind.BatchGoes, batch.Id.Text, batch.Id);
        }

        foreach (var (at, kind, value, why) in Notes(watched))
        {
            // What lies before counts as the batch stood when it came, and as what it brought along; only its water starts the clocks of a new place.
            var isBefore = Ticks(at) < start;
            var counts = !isBefore || kind == ChangeKind.Wetted || (stay == 0 && kind is ChangeKind.LookDue or ChangeKind.WaitingOver);
            if (counts && Math.Max(start, Ticks(at)) < end)
            {
                yield return new(Math.Max(start, Ticks(at)), kind, $"{batch.Id} {at} {value:R} {why}", new BatchNote(batch.Id, kind, value, why));
            }
        }
    }

    private static BatchStanding StandingAt(WatchedBatch watched, long start)
    {
        var looks = watched.Batch.Looks.Where(look => look.Up > 0 && Ticks(look.At) < start).ToList();
        return new(
            looks.Select(look => look.Up).DefaultIfEmpty(0).Max(),
            looks.Count == 0 ? null : looks.Min(look => Ticks(look.At)),
            watched.CoverOffAt is { } off && Ticks(off) < start);
    }

    private static IEnumerable<(Instant At, ChangeKind Kind, double Value, CauseKind? Why)> Notes(WatchedBatch watched)
    {
        foreach (var wetting in watched.Wettings)
        {
            yield return (wetting, ChangeKind.Wetted, 0, null);
        }

        foreach (var look in watched.Batch.Looks)
        {
            yield return (look.At, ChangeKind.Looked, look.Up, null);
        }

        if (watched.CoverOffAt is { } off)
        {
            yield return (off, ChangeKind.CoverOff, 0, null);
        }

        if (watched.LookFrom is { } look2)
        {
            yield return (look2.At, ChangeKind.LookDue, look2.Chance, null);
        }

        if (watched.StopWaitingFrom is { } stop)
        {
            yield return (stop.At, ChangeKind.WaitingOver, stop.Chance, stop.Why);
        }
    }

    private static long Ticks(Instant instant) =>
        instant <= Instant.FromUnixTimeTicks(0) ? 0 : instant >= FarFuture ? long.MaxValue : instant.ToUnixTimeTicks();

    // 2500-01-01: past anything that a home will live to see, and safe to add spans of ticks to.
    private static readonly Instant FarFuture = Instant.FromUtc(2500, 1, 1, 0, 0);
}
