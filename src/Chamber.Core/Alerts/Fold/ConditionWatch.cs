using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// A condition on one place: it keeps a state for each batch or probe, gives inputs to its rule and writes down what follows. Which
/// readings it takes it says by the interfaces beside it (<see cref="IFollowSpots"/> and its like); facts come to all.
/// </summary>
/// <param name="condition">Whose rule it is.</param>
/// <param name="place">What the conditions of the place share.</param>
internal abstract class ConditionWatch(Condition condition, PlaceState place)
{
    protected PlaceState Place { get; private set; } = place;

    public Condition Condition => condition;

    protected AlertKind Kind => condition.Kind;

    protected WatchLimits Limits => Place.Settings.Limits;

    /// <summary>Other limits are in force.</summary>
    public virtual void TakeLimits()
    {
    }

    public virtual void Added(StationState station)
    {
    }

    /// <summary>The probe leaves; what it held open is closed already.</summary>
    public virtual void Removed(StationState station, Moment at)
    {
    }

    public virtual void Added(BatchState batch)
    {
    }

    /// <summary>The batch has left; what it held open is closed already.</summary>
    public virtual void Removed(BatchState batch, Moment at)
    {
    }

    public virtual void Calibrated(StationState station, TemperatureDifference change, Moment at)
    {
    }

    public virtual void Surveyed(Surveyed survey)
    {
    }

    public virtual void Wetted(Wetted wetting)
    {
    }

    public virtual void Uncovered(BatchState batch, Moment at)
    {
    }

    /// <param name="batch">Which batch.</param>
    /// <param name="at">When.</param>
    /// <param name="isMore">Whether more were up than before.</param>
    public virtual void Looked(BatchState batch, Moment at, bool isMore)
    {
    }

    public virtual void LookWanted(BatchState batch, LookWanted look)
    {
    }

    public virtual void WaitingOver(BatchState batch, WaitingOver end)
    {
    }

    /// <summary>What a batch that leaves takes along; null for nothing.</summary>
    public virtual CarriedState? Carry(BatchState batch) => null;

    /// <summary>Goes on with what a batch has brought along.</summary>
    public virtual void Resume(BatchState batch, CarriedState carried)
    {
    }

    /// <summary>Whether an alert of this kind that a batch brings along holds here too.</summary>
    public virtual bool HoldsOn(BatchState batch) => true;

    /// <summary>The same for another state of the place, going its own way.</summary>
    public ConditionWatch Copy(PlaceState copied)
    {
        var copy = (ConditionWatch)MemberwiseClone();
        copy.Place = copied;
        copy.OwnStates();
        return copy;
    }

    /// <summary>Takes copies of its own of what it holds by reference.</summary>
    protected virtual void OwnStates()
    {
    }

    /// <summary>Opens or closes the alert that a held condition stands for; returns it when it was opened.</summary>
    protected OpenAlert? Follow(Transition transition, in HeldCondition held, AlertSubject about, string holder, Severity severity)
    {
        if (transition == Transition.None)
        {
            return null;
        }

        Place.Mark = Moment.Later(Place.Mark, held.ChangedAt);
        if (transition == Transition.Opened)
        {
            return Raise(about, severity, held.Since, held.ChangedAt, holder);
        }

        Release(about, holder, held.ChangedAt);
        return null;
    }

    /// <summary>What the alert of the spot was about has been done anew: every holder lets go.</summary>
    protected void Restart(ref HeldCondition held, Moment at)
    {
        if (held.IsOpen && Find(Place.Subject) is { } alert)
        {
            foreach (var holder in alert.Holders)
            {
                Release(Place.Subject, holder, at);
            }
        }

        held = default;
    }

    protected OpenAlert? Find(AlertSubject about) => Place.Book.Find(Kind, about);

    protected OpenAlert Raise(AlertSubject about, Severity severity, Moment since, Moment openedAt, string holder) =>
        Place.Book.Raise(Kind, about, severity, since, openedAt, holder);

    protected void Release(AlertSubject about, string holder, Moment at, CloseReason reason = CloseReason.Over) =>
        Place.Release(Kind, about, holder, at, reason);
}

/// <summary>A condition with a state for each probe of a place.</summary>
internal abstract class StationWatch<TState>(Condition condition, PlaceState place) : ConditionWatch(condition, place)
    where TState : struct
{
    private StateTable<TState> states = new();

    public override void Added(StationState station) => states.Add(station.Index);

    public override void Removed(StationState station, Moment at) => states.Remove(station.Index);

    protected ref TState Of(StationState station) => ref states.Of(station.Index);

    protected override void OwnStates() => states = states.Copy();
}

/// <summary>A condition with a state for each batch of a place.</summary>
internal abstract class BatchWatch<TState>(Condition condition, PlaceState place) : ConditionWatch(condition, place)
    where TState : struct
{
    private StateTable<TState> states = new();

    public override void Added(BatchState batch) => states.Add(batch.Index);

    public override void Removed(BatchState batch, Moment at) => states.Remove(batch.Index);

    protected ref TState Of(BatchState batch) => ref states.Of(batch.Index);

    protected override void OwnStates() => states = states.Copy();
}

/// <summary>States by index. They are values without references to anything that changes, so that a copy of the table goes its own
/// way.</summary>
internal sealed class StateTable<TState>
    where TState : struct
{
    private TState[] states = [];

    public void Add(int index)
    {
        if (index != states.Length)
        {
            throw new InvalidOperationException($"The next index is {states.Length}, not {index}.");
        }

        Array.Resize(ref states, index + 1);
    }

    public void Remove(int index) => states = [.. states[..index], .. states[(index + 1)..]];

    public ref TState Of(int index) => ref states[index];

    public StateTable<TState> Copy() => new() { states = [.. states] };
}
