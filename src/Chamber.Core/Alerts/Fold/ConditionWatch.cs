using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// A condition on one place: it keeps a state for each batch or probe, gives inputs to its rule and records what follows.
/// </summary>
/// <param name="condition">Whose rule it is.</param>
/// <param name="place">What the conditions of the place share.</param>
internal abstract class ConditionWatch(Condition condition, PlaceState place) : ConditionInputs
{
    protected PlaceState Place { get; private set; } = place;

    public Condition Condition => condition;

    protected AlertKind Kind => condition.Kind;

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

    /// <summary>What the alert of the spot was about has been done again: every holder lets go.</summary>
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
