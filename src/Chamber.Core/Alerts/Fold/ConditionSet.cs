using System.Collections;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Conditions that are looked for together, found by their kind.</summary>
internal sealed class ConditionSet(IReadOnlyList<Condition> conditions) : IReadOnlyList<Condition>
{
    private readonly Dictionary<AlertKind, int> indices = conditions.Index()
        .ToDictionary(condition => condition.Item.Kind, condition => condition.Index);

    private InputTable? takers;

    /// <summary>The kinds of alerts, in order.</summary>
    public IReadOnlyList<AlertKind> Kinds { get; } = [.. conditions.Select(condition => condition.Kind)];

    /// <summary>The limits that a user may set, each once.</summary>
    public IReadOnlyList<Limit> Limits { get; } = [.. conditions.SelectMany(condition => condition.Limits).DistinctBy(limit => limit.Name)];

    /// <summary>The temperature from which on a reading must be folded at once, whatever may still come before it; null where none is so
    /// urgent.</summary>
    public double? UrgentCelsius(WatchLimits limits) => conditions.Min(condition => condition.UrgentCelsius(limits));

    /// <summary>Which of the watches of these conditions on a location take which inputs: the same ones everywhere.</summary>
    public InputTable TakersAmong(IReadOnlyList<ConditionWatch> watches) => takers ??= new(watches);

    public int Count => conditions.Count;

    public Condition this[int index] => conditions[index];

    /// <summary>The condition of a kind.</summary>
    /// <exception cref="ArgumentOutOfRangeException">It is not registered.</exception>
    public Condition Of(AlertKind kind) => indices.TryGetValue(kind, out var index)
        ? conditions[index]
        : throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such condition is registered.");

    /// <summary>Compares two kinds by their order; those that are not registered come last, by name.</summary>
    public int Compare(AlertKind one, AlertKind other)
    {
        var order = indices.GetValueOrDefault(one, int.MaxValue).CompareTo(indices.GetValueOrDefault(other, int.MaxValue));
        return order != 0 ? order : string.CompareOrdinal(one.Name, other.Name);
    }

    public IEnumerator<Condition> GetEnumerator() => conditions.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
