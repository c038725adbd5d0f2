using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// A condition on one location: it keeps a state for each batch or probe, gives inputs to its rule and records what follows.
/// </summary>
/// <param name="condition">Whose rule it is.</param>
/// <param name="location">What the conditions of the location share.</param>
internal abstract class ConditionWatch(Condition condition, LocationState location) : ConditionInputs
{
    protected LocationState Location { get; private set; } = location;

    public Condition Condition => condition;

    protected AlertKind Kind => condition.Kind;

    /// <summary>The same for another state of the location, going its own way.</summary>
    public ConditionWatch Copy(LocationState copied)
    {
        var copy = (ConditionWatch)MemberwiseClone();
        copy.Location = copied;
        copy.OwnStates();
        return copy;
    }

    /// <summary>Copies what it holds by reference.</summary>
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

        Location.Mark = Moment.Later(Location.Mark, held.ChangedAt);
        if (transition == Transition.Opened)
        {
            return Raise(about, severity, held.Since, held.ChangedAt, holder);
        }

        Release(about, holder, held.ChangedAt);
        return null;
    }

    /// <summary>What the alert of the spot was about has been done again: every holder lets go.</summary>
    protected void Restart(ref HeldCondition held, Moment at)
    {
        if (held.IsOpen && Find(Location.Subject) is { } alert)
        {
            foreach (var holder in alert.Holders)
            {
                Release(Location.Subject, holder, at);
            }
        }

        held = default;
    }

    protected OpenAlert? Find(AlertSubject about) => Location.Book.Find(Kind, about);

    protected OpenAlert Raise(AlertSubject about, Severity severity, Moment since, Moment openedAt, string holder) =>
        Location.Book.Raise(Kind, about, severity, since, openedAt, holder);

    protected void Release(AlertSubject about, string holder, Moment at, CloseReason reason = CloseReason.Over) =>
        Location.Release(Kind, about, holder, at, reason);
}
