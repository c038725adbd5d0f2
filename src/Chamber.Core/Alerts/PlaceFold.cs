using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// Feeds one place in order of time: holds readings of several probes back for the settling time, notices those that come
/// too late, and keeps checkpoints to fold again from.
/// </summary>
internal sealed class PlaceFold(Place place, PlaceTimeline timeline, WatchTicks limits, OutageList outages, HourLog hours)
{
    /// <summary>Readings held back at most; the oldest is folded when there are more, or the furthest ahead let go when all lie ahead.</summary>
    public const int HeldMax = 128;

    /// <summary>The closest checkpoints, six hours apart; older ones are a day apart.</summary>
    private const int FineCheckpoints = 8;
    private const int CheckpointMax = 22;
    private const long CheckpointTicks = 6 * NodaConstants.TicksPerHour;

    // Clocks differ; what lies further ahead than this waits until its time has come.
    private const long AheadMax = 15 * NodaConstants.TicksPerMinute;

    private readonly List<PlaceWatch> checkpoints = [];
    private readonly List<Held> held = [];
    private WatchTicks limits = limits;
    private OutageList outages = outages;
    private long lateFrom = long.MaxValue;
    private bool lateAsked;
    private long checkpointAt;
    private long reached = long.MinValue;
    private long lastAt;
    private string lastProbe = "";

    public Place Place { get; } = place;

    /// <summary>The hours of the place, from which the home tells drift.</summary>
    public HourLog Hours { get; } = hours;

    public PlaceWatch Watch { get; private set; } = new(place, timeline, limits, outages, hours);

    /// <summary>What was said of this place so far.</summary>
    public List<Alert> Told { get; } = [];

    /// <summary>When what there is to say was looked through last.</summary>
    public Instant LookedAt { get; set; }

    /// <summary>Readings that the journal gave out of order, and that are not counted.</summary>
    public long OutOfOrder { get; private set; }

    /// <summary>Whether a batch has brought something along that is not folded in yet.</summary>
    public bool AwaitsCarried { get; private set; }

    /// <summary>Whether numbers of open alerts may have grown old in the telling.</summary>
    public bool IsOld(Instant now) => now - LookedAt >= ToldAlerts.AmendEvery && (Watch.Book.Open.Count > 0 || Told.Exists(alert => alert.IsOpen));

    /// <summary>The probes that stand or stood here.</summary>
    public IEnumerable<ProbeId> Probes => Enumerable.Range(0, Watch.Timeline.Count)
        .Select(index => Watch.Timeline[index].What).OfType<ProbeTerms>().Select(terms => terms.Probe.Id).Distinct();

    public void Take(in Reading reading, long at, long settledUpTo)
    {
        if (IsLate(reading, at))
        {
            lateFrom = Math.Min(lateFrom, at);
        }
        else if (Watch.Stations.Count <= 1 && (held.Count == 0 || at < held[0].At) && !IsAhead(at, settledUpTo))
        {
            Fold(reading, at);
        }
        else
        {
            HoldBack(new(at, reading), settledUpTo);
        }
    }

    public void Advance(long settledUpTo)
    {
        reached = Math.Max(reached, settledUpTo);
        Release(settledUpTo);
        Watch.Advance(held.Count > 0 ? Math.Min(settledUpTo, held[0].At - 1) : settledUpTo);
    }

    /// <summary>What is needed to fold again what came too late; null when nothing did, or when it was asked for already.</summary>
    public RefoldNeeded? TakeLate()
    {
        if (lateFrom == long.MaxValue || lateAsked)
        {
            return null;
        }

        lateAsked = true;
        return new(Place, RestartBefore(lateFrom) is { } checkpoint ? Instant.FromUnixTimeTicks(checkpoint.Mark + 1) : null);
    }

    public void Adopt(PlaceTimeline timeline, WatchTicks newLimits, OutageList newOutages, long changed)
    {
        var difference = Math.Min(changed, timeline.FirstDifference(Watch.Timeline) ?? long.MaxValue);
        limits = newLimits;
        outages = newOutages;
        if (difference <= Watch.Mark)
        {
            lateFrom = Math.Min(lateFrom, difference);
            lateAsked = false;
        }

        checkpoints.RemoveAll(checkpoint => checkpoint.Mark >= difference);
        checkpointAt = checkpoints.Count > 0 ? checkpoints[^1].Mark : 0;
        foreach (var watch in checkpoints.Append(Watch))
        {
            watch.Adopt(timeline, limits, outages);
        }
    }

    /// <summary>Lays what batches bring along on the place; see <see cref="AwaitsCarried"/>.</summary>
    public void Carry(PlaceTimeline timeline)
    {
        AwaitsCarried |= timeline.FirstDifference(Watch.Timeline) <= Watch.Mark;
        Adopt(timeline, limits, outages, long.MaxValue);
    }

    public void Refold(IEnumerable<Reading> readings, long settledUpTo)
    {
        var timeline = Watch.Timeline;
        var start = RestartBefore(lateFrom);
        checkpoints.RemoveAll(checkpoint => start is null || checkpoint.Mark > start.Mark);
        checkpointAt = start?.Mark ?? 0;
        Hours.TakeBack(start?.Mark ?? -1);
        Watch = start?.Copy() ?? new(Place, timeline, limits, outages, Hours);
        Watch.Adopt(timeline, limits, outages);
        Watch.Book.Changed = true;
        Watch.HasDepartures = true;
        held.Clear();
        lastAt = 0;
        lateFrom = long.MaxValue;
        lateAsked = false;
        AwaitsCarried = false;
        foreach (var reading in readings)
        {
            TakeAgain(reading, settledUpTo);
        }

        // As far as it had come before: what people have done just now must not be undone until it settles.
        Advance(Math.Max(reached, settledUpTo));
    }

    /// <summary>The clock was put back: what was folded of the time to come is folded again when that has come.</summary>
    public void TurnBack(long now)
    {
        reached = Math.Min(reached, now);
        if (Watch.Mark > now)
        {
            lateFrom = Math.Min(lateFrom, now);
            lateAsked = false;
        }
    }

    // One that is out of order here would be so each time: it must not ask to be folded again.
    private void TakeAgain(in Reading reading, long settledUpTo)
    {
        var at = reading.MeasuredAt.ToUnixTimeTicks();
        if (IsLate(reading, at))
        {
            OutOfOrder++;
            return;
        }

        Take(reading, at, settledUpTo);
    }

    private bool IsLate(in Reading reading, long at) => at < Watch.Mark || (at == lastAt && string.CompareOrdinal(reading.Probe.Text, lastProbe) < 0);

    private static bool IsAhead(long at, long settledUpTo) => at - settledUpTo > AheadMax;

    private PlaceWatch? RestartBefore(long at) => checkpoints.FindLast(checkpoint => checkpoint.Mark < at);

    private void HoldBack(in Held entry, long settledUpTo)
    {
        var index = held.Count;
        while (index > 0 && entry.IsBefore(held[index - 1]))
        {
            index--;
        }

        held.Insert(index, entry);
        var isHot = entry.Reading.Temperature is { } temperature && temperature.Celsius > limits.FlushCelsius && !IsAhead(entry.At, settledUpTo);
        Release(isHot ? Math.Max(settledUpTo, entry.At) : settledUpTo);
        if (held.Count <= HeldMax)
        {
            return;
        }

        if (IsAhead(held[0].At, settledUpTo))
        {
            held.RemoveAt(held.Count - 1);
        }
        else
        {
            Release(held[0].At);
        }
    }

    private void Release(long upTo)
    {
        var count = 0;
        while (count < held.Count && held[count].At <= upTo)
        {
            var entry = held[count++];
            Fold(entry.Reading, entry.At);
        }

        held.RemoveRange(0, count);
    }

    private void Fold(in Reading reading, long at)
    {
        // Between two readings of one instant there is no checkpoint, since a fold from there would miss the second.
        if (at - checkpointAt >= CheckpointTicks && at > Watch.Mark)
        {
            Keep(Watch.Copy());
        }

        lastAt = at;
        lastProbe = reading.Probe.Text;
        Watch.Fold(reading, at);
    }

    private void Keep(PlaceWatch checkpoint)
    {
        checkpoints.Add(checkpoint);
        checkpointAt = checkpoint.Mark;
        var thinned = checkpoints.Count - FineCheckpoints - 1;
        if (thinned > 0 && checkpoints[thinned].Mark - checkpoints[thinned - 1].Mark < NodaConstants.TicksPerDay)
        {
            checkpoints.RemoveAt(thinned);
        }

        if (checkpoints.Count > CheckpointMax)
        {
            checkpoints.RemoveAt(0);
        }
    }

    private readonly record struct Held(long At, Reading Reading)
    {
        public bool IsBefore(in Held other) => At < other.At
            || (At == other.At && string.CompareOrdinal(Reading.Probe.Text, other.Reading.Probe.Text) < 0);
    }
}
