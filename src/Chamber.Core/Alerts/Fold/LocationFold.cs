using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// Feeds one location in order of time: holds readings of several probes back for the settling time, notices those that come
/// too late, and keeps checkpoints to fold again from.
/// </summary>
internal sealed class LocationFold(Location location, LocationTimeline timeline, LocationSettings settings, HourLog hours)
{
    /// <summary>Readings held back at most; the oldest is folded when there are more, or the furthest ahead let go when all lie
    /// ahead.</summary>
    public const int HeldMax = 128;

    // They reach back for a month.
    private const int CheckpointMax = 8;
    private static readonly TimeSpan CheckpointEvery = TimeSpan.FromHours(6);

    // Clocks differ; what lies further ahead than this waits until its time has come.
    private static readonly TimeSpan AheadMax = TimeSpan.FromMinutes(15);

    // From here on a reading is folded at once, whatever may still come before it. Leaves room for an offset of 5 K.
    private const double UrgentMargin = 5;

    /// <summary>An open alert's numbers are reported again when what they rest on has gone on for so long.</summary>
    public static readonly Duration AmendEvery = Duration.FromHours(1);

    private readonly List<LocationWatch> checkpoints = [];
    private readonly List<Held> held = [];
    private LocationSettings settings = settings;
    private double urgentCelsius = UrgentFrom(settings.Conditions, settings.Limits);
    private Moment? lateFrom;
    private bool lateAsked;
    private Moment checkpointAt;
    private Moment reached = new(-1);
    private Moment lastAt;
    private string lastProbe = "";

    public Location Location { get; } = location;

    /// <summary>The hours of the location, from which the home tells drift.</summary>
    public HourLog Hours { get; } = hours;

    public LocationWatch Watch { get; private set; } = new(location, timeline, settings, hours, static _ => Moment.Beginning);

    /// <summary>What was reported of this location so far.</summary>
    public List<Alert> Reported { get; } = [];

    /// <summary>When what there is to say was looked through last.</summary>
    public Instant LookedAt { get; set; }

    /// <summary>From when on silence of a probe proves anything, in a fold from the beginning: its readings are given from then
    /// on.</summary>
    public Func<ProbeId, Moment> SilenceFrom { get; set; } = static _ => Moment.Beginning;

    /// <summary>Readings that the journal gave out of order, and that are not counted.</summary>
    public long OutOfOrder { get; private set; }

    /// <summary>Whether a batch has brought something along that is not folded in yet.</summary>
    public bool AwaitsCarried { get; private set; }

    /// <summary>Whether numbers of open alerts may have grown old since they were reported.</summary>
    public bool IsOld(Instant now) => now - LookedAt >= AmendEvery && (Watch.Book.Open.Count > 0 || Reported.Exists(alert => alert.IsOpen));

    /// <summary>The probes that stand or stood here.</summary>
    public IEnumerable<ProbeId> Probes => Watch.Timeline.Probes;

    public void Take(in Reading reading, Moment at, Moment settledUpTo)
    {
        if (IsLate(reading, at))
        {
            NoteLate(at);
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

    public void Advance(Moment settledUpTo)
    {
        reached = Moment.Later(reached, settledUpTo);
        Release(settledUpTo);
        Watch.Advance(held.Count > 0 ? Moment.Earlier(settledUpTo, new(held[0].At.Ticks - 1)) : settledUpTo);
    }

    /// <summary>What is needed to fold again what came too late; null when nothing did, or when it was asked for already.</summary>
    public RefoldNeeded? TakeLate()
    {
        if (lateFrom is null || lateAsked)
        {
            return null;
        }

        lateAsked = true;
        return new(Location, RefoldFrom);
    }

    /// <summary>From when on readings are needed to fold it again, as things stand: more may have come too late since that was asked for.
    /// Null for all of them.</summary>
    public Instant? RefoldFrom => Restart is { } checkpoint ? new Moment(checkpoint.Mark.Ticks + 1).ToInstant() : null;

    /// <summary>Puts other facts under the fold.</summary>
    /// <param name="timeline">What they say of the location.</param>
    /// <param name="newSettings">What it is judged by.</param>
    /// <param name="changed">From when on that is different.</param>
    /// <param name="heardUpTo">Up to when readings were taken in: those of a probe that turns out to have come earlier were folded
    /// elsewhere.</param>
    public void Adopt(LocationTimeline timeline, LocationSettings newSettings, Moment changed, Moment heardUpTo)
    {
        var difference = Moment.Earlier(changed, timeline.FirstDifference(Watch.Timeline) ?? Moment.Never);
        settings = newSettings;
        urgentCelsius = UrgentFrom(settings.Conditions, settings.Limits);
        if (difference <= Watch.Mark || timeline.FirstArrivalBeyond(Watch.Timeline) < heardUpTo)
        {
            NoteLate(difference);
            lateAsked = false;
        }

        checkpoints.RemoveAll(checkpoint => checkpoint.Mark >= difference);
        checkpointAt = checkpoints.Count > 0 ? checkpoints[^1].Mark : Moment.Beginning;
        foreach (var watch in checkpoints.Append(Watch))
        {
            watch.Adopt(timeline, settings);
        }
    }

    /// <summary>A new location asks for what a probe has said there already.</summary>
    /// <param name="heardUpTo">Up to when readings were taken in.</param>
    public void CatchUp(Moment heardUpTo)
    {
        if (Watch.Timeline.FirstArrivalBeyond(null) < heardUpTo)
        {
            NoteLate(Moment.Beginning);
        }
    }

    /// <summary>Lays what batches bring along on the location; see <see cref="AwaitsCarried"/>.</summary>
    public void Carry(LocationTimeline timeline)
    {
        AwaitsCarried |= timeline.FirstDifference(Watch.Timeline) <= Watch.Mark;
        Adopt(timeline, settings, Moment.Never, Moment.Beginning);
    }

    public void Refold(IEnumerable<Reading> readings, Moment settledUpTo)
    {
        var timeline = Watch.Timeline;
        var start = Restart;
        checkpoints.RemoveAll(checkpoint => start is null || checkpoint.Mark > start.Mark);
        checkpointAt = start?.Mark ?? Moment.Beginning;
        Hours.TakeBack(start?.Mark ?? new(-1));
        Watch = start?.Copy() ?? new(Location, timeline, settings, Hours, SilenceFrom);
        Watch.Adopt(timeline, settings);
        Watch.Book.Changed = true;
        Watch.Departures.AreNew = true;
        held.Clear();
        lastAt = Moment.Beginning;
        lateFrom = null;
        lateAsked = false;
        AwaitsCarried = false;
        foreach (var reading in readings)
        {
            TakeAgain(reading, settledUpTo);
        }

        // As far as it had come before: what people have done just now must not be undone until it settles.
        Advance(Moment.Later(reached, settledUpTo));
    }

    /// <summary>The clock was put back: what was folded of the time to come is folded again when that has come.</summary>
    public void TurnBack(Moment now)
    {
        reached = Moment.Earlier(reached, now);
        if (Watch.Mark > now)
        {
            NoteLate(now);
            lateAsked = false;
        }
    }

    // One that is out of order here would be so each time: it must not ask to be folded again.
    private void TakeAgain(in Reading reading, Moment settledUpTo)
    {
        var at = Moment.Of(reading.MeasuredAt);
        if (IsLate(reading, at))
        {
            OutOfOrder++;
            return;
        }

        Take(reading, at, settledUpTo);
    }

    private bool IsLate(in Reading reading, Moment at) =>
        at < Watch.Mark || (at == lastAt && string.CompareOrdinal(reading.Probe.Text, lastProbe) < 0);

    /// <summary>From this temperature on, °C, a reading is folded at once.</summary>
    public static double UrgentFrom(ConditionSet conditions, WatchLimits limits) =>
        conditions.UrgentCelsius(limits) - UrgentMargin ?? double.PositiveInfinity;

    private static bool IsAhead(Moment at, Moment settledUpTo) => at - settledUpTo > AheadMax;

    private void NoteLate(Moment at) => lateFrom = lateFrom is { } late ? Moment.Earlier(late, at) : at;

    private LocationWatch? Restart =>
        lateFrom is { } late ? checkpoints.FindLast(checkpoint => checkpoint.Mark < late) : checkpoints.LastOrDefault();

    private void HoldBack(in Held entry, Moment settledUpTo)
    {
        var index = held.Count;
        while (index > 0 && entry.IsBefore(held[index - 1]))
        {
            index--;
        }

        held.Insert(index, entry);
        var isHot = entry.Reading.Temperature is { } temperature && temperature.Celsius > urgentCelsius && !IsAhead(entry.At, settledUpTo);
        Release(isHot ? Moment.Later(settledUpTo, entry.At) : settledUpTo);
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

    private void Release(Moment upTo)
    {
        var count = 0;
        while (count < held.Count && held[count].At <= upTo)
        {
            var entry = held[count++];
            Fold(entry.Reading, entry.At);
        }

        held.RemoveRange(0, count);
    }

    private void Fold(in Reading reading, Moment at)
    {
        // Between two readings of one instant there is no checkpoint, since a fold from there would miss the second. Nor before the first:
        // that is the beginning, of which the hours before it are known too.
        if (at - checkpointAt >= CheckpointEvery && at > Watch.Mark && Watch.Mark > Moment.Beginning)
        {
            Keep(Watch.Copy());
        }

        lastAt = at;
        lastProbe = reading.Probe.Text;
        Watch.Fold(reading, at);
    }

    private void Keep(LocationWatch checkpoint)
    {
        checkpoints.Add(checkpoint);
        checkpointAt = checkpoint.Mark;
        CheckpointSpacing.Thin(checkpoints, one => one.Mark, CheckpointMax);
    }

    private readonly record struct Held(Moment At, Reading Reading)
    {
        public bool IsBefore(in Held other) => At < other.At
            || (At == other.At && string.CompareOrdinal(Reading.Probe.Text, other.Reading.Probe.Text) < 0);
    }
}
