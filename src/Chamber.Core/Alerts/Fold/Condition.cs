using Chamber.Core.Alerts.Limits;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// A condition that the watch looks for, with everything about it but its states: its limits, its words, the harm it does to a batch and
/// what the documentation says of it. Each lies in its own folder under Conditions, and has one line in the registry there.
/// </summary>
internal abstract class Condition
{
    public abstract AlertKind Kind { get; }

    /// <summary>The limits that a user may set, in the order in which they are shown.</summary>
    public virtual IReadOnlyList<Limit> Limits => [];

    /// <summary>What docs/alerts.md says of it.</summary>
    public abstract ConditionDocs Docs { get; }

    /// <summary>Whether it is reported at once, also in quiet hours, and when it was over before anybody could be notified.</summary>
    public virtual bool IsHazard => false;

    /// <summary>Whether it is reported again while nobody has seen it, though it is only a note.</summary>
    public virtual bool IsReminder => false;

    /// <summary>Whether it comes again and again, so that its caution is a line that keeps being read.</summary>
    public virtual bool IsChore => false;

    /// <summary>Whether it is several faults of a probe, each of which a script shows by itself.</summary>
    public virtual bool IsByFault => false;

    /// <summary>Whether fingers go to the seed itself: it is dug up, or planted from a towel.</summary>
    public virtual bool TouchesSeed => false;

    /// <summary>The temperature from which on a reading is folded at once, whatever may still come before it; null for none.</summary>
    public virtual double? UrgentCelsius(WatchLimits limits) => null;

    /// <summary>What to mind where it sends a hand.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="spot">The spot that it sends to; null when that is not known.</param>
    public virtual HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot;

    /// <summary>What must be refused how often before it holds; for conditions that show in what is refused.</summary>
    public virtual IReadOnlyList<RefusalRule> Refusals => [];

    /// <summary>An alert of it in words.</summary>
    public abstract AlertText Words(AlertTeller teller);

    /// <summary>Its watch on one location; null where it is not judged location by location.</summary>
    public virtual ConditionWatch? At(LocationState location) => null;

    /// <summary>What an open alert means for the batches of a location.</summary>
    public virtual IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert, LocationState location) => [];

    /// <summary>The batches that hold an alert open.</summary>
    protected static IEnumerable<BatchState> HoldersOf(OpenAlert alert, LocationState location) =>
        location.Batches.Where(batch => alert.IsHeldBy(batch.Name));
}

/// <summary>What docs/alerts.md says of a condition, in whole sentences.</summary>
/// <param name="Opens">When it opens.</param>
/// <param name="Closes">When it is over.</param>
internal sealed record ConditionDocs(string Opens, string Closes)
{
    /// <summary>Where its thresholds come from, where its limits do not say so themselves; empty for none.</summary>
    public string Source { get; init; } = "";

    /// <summary>What else there is to know; empty for nothing.</summary>
    public string More { get; init; } = "";
}
