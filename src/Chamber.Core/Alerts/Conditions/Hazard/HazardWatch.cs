using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Hazard;

/// <summary>A hazard by one probe.</summary>
internal struct HazardState
{
    public HeldCondition Held;

    /// <summary>Whether it was opened by the reading now held back as a lone one.</summary>
    public bool IsBySuspect;
}

/// <summary>Hazards on one location: the first reading counts, and none is held back.</summary>
internal sealed class HazardWatch(Condition condition, LocationState location)
    : StationWatch<HazardState, HazardLimits>(condition, location, limits => new(limits))
{
    public override void Measured(StationState station, in TimedTemperature now)
    {
        var limit = LimitOf(station);
        ref var state = ref Of(station);
        if (now.Temperature.Celsius <= limit && !state.Held.IsOpen)
        {
            return;
        }

        PassTo(station, ref state, station.KnownUntil is { } known ? Moment.Earlier(now.At, known) : now.At);
        Change(station, Step(ref state.Held, now, limit, Limits), state.Held, now);
        if (state.Held.IsOpen && Find(Location.Subject) is { } alert)
        {
            alert.NoteHot(now);
            if (now.Temperature.Celsius > Limits.DangerCelsius)
            {
                alert[FigureName.LimitCelsius] = Limits.DangerCelsius;
                Location.Book.Worsen(alert, Severity.Danger);
            }
        }
    }

    /// <summary>The rule: over its limit at once, over again when it is well below for a while.</summary>
    public static Transition Step(ref HeldCondition state, in TimedTemperature input, double limitCelsius, HazardLimits limits) =>
        state.Judge(
            input.At, input.Temperature.Celsius > limitCelsius, input.Temperature.Celsius <= limitCelsius - limits.MarginKelvins,
            TimeSpan.Zero, limits.ClearHold);

    public override void HeldBack(StationState station, in TimedTemperature suspect)
    {
        ref var state = ref Of(station);
        state.IsBySuspect |= state.Held.IsOpen && state.Held.ChangedAt == suspect.At;
    }

    public override void BorneOut(StationState station, in TimedTemperature suspect) => Of(station).IsBySuspect = false;

    public override void Dropped(StationState station, in TimedTemperature suspect)
    {
        ref var state = ref Of(station);
        if (state.IsBySuspect)
        {
            state = default;
            Release(Location.Subject, station.Name, suspect.At, CloseReason.LoneReading);
        }
    }

    public override void Advance(Moment to)
    {
        foreach (var station in Location.Stations)
        {
            if (station.KnownUntil is { } known)
            {
                PassTo(station, ref Of(station), Moment.Earlier(to, known));
            }
        }
    }

    private double LimitOf(StationState station) => Limits.Of(station.Measurand, Location.Batches.Count > 0);

    private void PassTo(StationState station, ref HazardState state, Moment to)
    {
        if (state.Held.IsOpen && state.Held.Advance(to, TimeSpan.Zero, Limits.ClearHold) is not Transition.None and var transition)
        {
            Change(station, transition, state.Held, station.Last!.Value);
        }
    }

    private void Change(StationState station, Transition transition, in HeldCondition held, in TimedTemperature reading)
    {
        if (transition == Transition.Closed)
        {
            Location.Mark = Moment.Later(Location.Mark, held.ChangedAt);
            Release(Location.Subject, station.Name, held.ChangedAt);
        }
        else if (transition == Transition.Opened)
        {
            var severity = reading.Temperature.Celsius > Limits.DangerCelsius ? Severity.Danger : Severity.Urgent;
            Raise(Location.Subject, severity, held.ChangedAt, held.ChangedAt, station.Name).Describe(station.Id, reading, LimitOf(station));
        }
    }
}
