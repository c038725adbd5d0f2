using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// The fold of one location: readings and facts in order of time in, alerts out. It keeps what the conditions share and hands each input to
/// those that take it; what follows from it is theirs. A function of readings and facts alone, so that folding the same again gives the
/// same again.
/// <see cref="Copy"/> keeps a state apart as a checkpoint.
/// </summary>
internal sealed class LocationWatch
{
    private readonly LocationState state;
    private readonly ConditionWatch[] watches;
    private readonly InputTable takers;
    private LocationReadings? readings;
    private LocationTimeline timeline;
    private int next;
    private Moment nextAt;
    private Moment nextDue = Moment.Never;

    public LocationWatch(Location location, LocationTimeline timeline, LocationSettings settings, HourLog hours,
        Func<ProbeId, Moment> silenceFrom)
    {
        state = new(location, settings, hours, silenceFrom);
        Departures = new();
        this.timeline = timeline;
        watches = [.. settings.Conditions.Select(condition => condition.At(state)).OfType<ConditionWatch>()];
        takers = settings.Conditions.TakersAmong(watches);
        nextAt = timeline.AtOf(0);
    }

    private LocationWatch(LocationWatch other)
    {
        state = other.state.Copy();
        Departures = other.Departures.Copy();
        (timeline, next, nextAt, nextDue) = (other.timeline, other.next, other.nextAt, other.nextDue);
        watches = Array.ConvertAll(other.watches, watch => watch.Copy(state));
        takers = other.takers;
    }

    /// <summary>What the conditions share.</summary>
    public LocationState State => state;

    public IReadOnlyList<ConditionWatch> Watches => watches;

    public AlertBook Book => state.Book;

    /// <summary>Up to where everything is folded: what lies before comes too late.</summary>
    public Moment Mark => state.Mark;

    public List<StationState> Stations => state.Stations;

    public LocationTimeline Timeline => timeline;

    /// <summary>Batches that have left for another location.</summary>
    public Departures Departures { get; }

    /// <summary>Puts other facts under the state. They must not differ before <see cref="Mark"/>.</summary>
    public void Adopt(LocationTimeline other, LocationSettings settings)
    {
        timeline = other;
        next = timeline.CountUpTo(Mark);
        nextAt = timeline.AtOf(next);
        var isSame = settings.Limits.Equals(state.Settings.Limits);
        state.Settings = settings;
        if (!isSame)
        {
            Tell(watch => watch.TakeLimits());
            readings?.Inputs.Wake();
        }
    }

    public LocationWatch Copy() => new(this);

    /// <summary>The alerts as they stand: those closed lately, then those open.</summary>
    public IEnumerable<Alert> Alerts() => Book.Closed.Concat(Book.Open.Select(alert => alert.ToAlert(state.HarmOf(alert))));

    /// <summary>What a drift of the spot, which the home tells, means for the batches that stand there.</summary>
    public IReadOnlyList<BatchHarm> HarmOfDrift(IReadOnlyList<DriftedHour> hours) =>
        [.. state.Batches.Select(batch => DriftedHour.HarmOf(batch, hours)).OfType<BatchHarm>()];

    /// <summary>Lets every condition know of a fact.</summary>
    public void Tell(Action<ConditionWatch> fact)
    {
        foreach (var watch in watches)
        {
            fact(watch);
        }
    }

    /// <summary>Folds the next reading. One of a probe that does not stand here is not counted.</summary>
    public void Fold(in Reading reading, Moment at)
    {
        PassTo(at);
        state.Mark = at;
        if (state.Find(reading.Probe) is { } station)
        {
            Readings.Take(station, reading, at);
        }
    }

    /// <summary>Lets time pass without a reading, as far as that changes anything.</summary>
    public void Advance(Moment to)
    {
        PassTo(to);
        Inputs.Advance(to);
    }

    // Most checkpoints are thrown away before anything is folded into them.
    private LocationReadings Readings => readings ?? Begin();

    private LocationInputs Inputs => Readings.Inputs;

    private LocationReadings Begin()
    {
        readings = new(state, new(state, watches, takers));
        readings.Inputs.Wake();
        return readings;
    }

    private void PassTo(Moment to)
    {
        while (nextAt <= to)
        {
            var change = timeline[next];

            // What falls due at the very moment of a change waits for it: whoever uncovers then is in time.
            if (nextDue < change.At)
            {
                MeetDeadlines(change.At);
            }

            state.Mark = Moment.Later(Mark, change.At);
            change.Apply(this);
            Inputs.Wake();
            nextAt = timeline.AtOf(++next);
            nextDue = Inputs.NextDue();
        }

        if (nextDue <= to)
        {
            MeetDeadlines(to);
        }
    }

    private void MeetDeadlines(Moment upTo)
    {
        while (nextDue <= upTo)
        {
            state.Mark = Moment.Later(Mark, nextDue);
            Inputs.MeetDue(nextDue);
            Inputs.Wake();
            nextDue = Inputs.NextDue();
        }
    }
}
