using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// The fold of one place: readings and facts in order of time in, alerts out. It keeps what the conditions share and hands each input to
/// those that take it; what follows from it is theirs. A function of readings and facts alone, so that folding the same again gives the
/// same again.
/// <see cref="Copy"/> keeps a state apart as a checkpoint.
/// </summary>
internal sealed class PlaceWatch
{
    private readonly PlaceState state;
    private readonly ConditionWatch[] watches;
    private readonly PlaceInputs inputs;
    private readonly Departures departures;
    private PlaceTimeline timeline;
    private int next;
    private Moment nextAt;
    private Moment nextDue = Moment.Never;
    private double spikeKelvins;

    public PlaceWatch(Place place, PlaceTimeline timeline, PlaceSettings settings, HourLog hours, Func<ProbeId, Moment> silenceFrom)
    {
        state = new(place, settings, hours, silenceFrom);
        departures = new();
        this.timeline = timeline;
        watches = [.. settings.Conditions.Select(condition => condition.At(state)).OfType<ConditionWatch>()];
        inputs = new(watches);
        nextAt = timeline.AtOf(0);
        spikeKelvins = settings.Limits.Of(LoneValue.Size);
    }

    private PlaceWatch(PlaceWatch other)
    {
        state = other.state.Copy();
        departures = other.departures.Copy();
        (timeline, next, nextAt, nextDue, spikeKelvins) = (other.timeline, other.next, other.nextAt, other.nextDue, other.spikeKelvins);
        watches = Array.ConvertAll(other.watches, watch => watch.Copy(state));
        inputs = new(watches);
    }

    public Place Place => state.Place;

    public AlertBook Book => state.Book;

    /// <summary>Up to where everything is folded: what lies before comes too late.</summary>
    public Moment Mark => state.Mark;

    public IReadOnlyList<StationState> Stations => state.Stations;

    public PlaceTimeline Timeline => timeline;

    /// <summary>Batches that have left for another place.</summary>
    public Departures Departures => departures;

    /// <summary>Puts other facts under the state. They must not differ before <see cref="Mark"/>.</summary>
    public void Adopt(PlaceTimeline other, PlaceSettings settings)
    {
        timeline = other;
        next = timeline.CountUpTo(Mark);
        nextAt = timeline.AtOf(next);
        var isSame = settings.Limits.Equals(state.Settings.Limits);
        state.Settings = settings;
        if (!isSame)
        {
            spikeKelvins = settings.Limits.Of(LoneValue.Size);
            Tell(watch => watch.TakeLimits());
        }
    }

    public PlaceWatch Copy() => new(this);

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
        if (state.Find(reading.Probe) is not { } station)
        {
            return;
        }

        inputs.Heard(station, at);
        station.HeardAt = at;
        station.HasSpoken = true;
        if (reading.Temperature is { } temperature)
        {
            TakeTemperature(station, new(at, temperature + station.Offset));
        }

        if (reading.Humidity is { } humidity)
        {
            inputs.TakeHumidity(state, station, at, humidity.Percent);
        }

        if (reading.Moisture is { } moisture)
        {
            inputs.TakeMoisture(state, station, at, moisture);
        }

        if (reading.Battery is { } battery)
        {
            inputs.TakeBattery(station, at, battery);
        }
    }

    /// <summary>Lets time pass without a reading, as far as that changes anything.</summary>
    public void Advance(Moment to)
    {
        PassTo(to);
        inputs.Advance(to);
    }

    public void Add(ProbeArrives change)
    {
        Moment? came = change.At > Moment.Beginning ? Moment.Later(change.At, state.SilenceFrom(change.Probe.Id)) : null;
        var station = new StationState(change.Probe, change.IsHandRead) { HeardAt = came };
        state.Add(station);
        Tell(watch => watch.Added(station));
    }

    public void Add(BatchArrives change)
    {
        var batch = new BatchState(change.Terms, change.At);
        state.Add(batch);
        Tell(watch => watch.Added(batch));
    }

    public void Remove(ProbeLeaves change)
    {
        if (state.Find(change.Probe) is { } station)
        {
            state.ReleaseAll(holder => holder == station.Name || holder.StartsWith(station.Name + " ", StringComparison.Ordinal),
                change.At);
            state.Remove(station);
            Tell(watch => watch.Removed(station, change.At));
        }
    }

    public void Remove(BatchLeaves change)
    {
        if (state.Find(change.Batch) is { } batch)
        {
            departures.Add(batch, change.At, state, watches);
            state.ReleaseAll(holder => holder == batch.Name, change.At);
            state.Remove(batch);
            Tell(watch => watch.Removed(batch, change.At));
        }
    }

    public void Calibrate(Calibrated change)
    {
        if (state.Find(change.Calibration.Probe) is { } station && station.Calibrate(change.Calibration) is { Kelvins: not 0 } moved)
        {
            Tell(watch => watch.Calibrated(station, moved, change.At));
        }
    }

    public void Apply(BatchChange change)
    {
        if (state.Find(change.Batch) is { } batch)
        {
            change.Apply(this, batch);
        }
    }

    public void Resume(BatchBrings change)
    {
        if (state.Find(change.Departure.Batch) is { } batch)
        {
            Departures.Resume(change.Departure, batch, state, watches);
        }
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
            nextAt = timeline.AtOf(++next);
            nextDue = inputs.NextDue();
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
            inputs.MeetDue(nextDue);
            nextDue = inputs.NextDue();
        }
    }

    private void TakeTemperature(StationState station, in TimedTemperature now)
    {
        SettleSuspect(station, now.Temperature);
        inputs.Measured(station, now);
        if (LoneValue.IsSuspect(station, now, spikeKelvins))
        {
            station.Suspect = now;
            inputs.HeldBack(station, now);
            return;
        }

        Accept(station, now);
    }

    private void SettleSuspect(StationState station, Temperature next)
    {
        if (station.Suspect is not { } suspect)
        {
            return;
        }

        var isBorneOut = station.BearsOut(next);
        station.Suspect = null;
        if (isBorneOut)
        {
            inputs.BorneOut(station, suspect);
            Accept(station, suspect);
        }
        else
        {
            inputs.Dropped(station, suspect);
        }
    }

    private void Accept(StationState station, in TimedTemperature now)
    {
        inputs.PassHours(state, station, now);
        inputs.Accepted(station, now);
        if (state.ReferenceAt(station, now.At) == station)
        {
            inputs.Follow(state, station, now);
            state.Reference = station;
        }

        station.Last = now;
    }
}
