using System.Collections.Immutable;

namespace Chamber.Core.Alerts.Limits;

/// <summary>
/// The limits in force: those that somebody has set, and for all others their usual values. Which limits there are the conditions say;
/// docs/alerts.md lists each with its source. Equal when the same limits are set to the same values.
/// </summary>
public sealed class WatchLimits : IEquatable<WatchLimits>
{
    private ImmutableSortedDictionary<string, double> numbers = ImmutableSortedDictionary.Create<string, double>(StringComparer.Ordinal);
    private ImmutableSortedDictionary<string, TimeSpan> times = ImmutableSortedDictionary.Create<string, TimeSpan>(StringComparer.Ordinal);

    /// <summary>The number in force.</summary>
    public double Of(NumberLimit limit) => numbers.GetValueOrDefault(limit.Name, limit.Usual);

    /// <summary>The length of time in force.</summary>
    public TimeSpan Of(TimeLimit limit) => times.GetValueOrDefault(limit.Name, TimeSpan.FromTicks(limit.Usual.BclCompatibleTicks));

    /// <summary>The same limits with one other.</summary>
    public WatchLimits With(NumberLimit limit, double value) => new() { numbers = numbers.SetItem(limit.Name, value), times = times };

    /// <summary>The same limits with one other.</summary>
    public WatchLimits With(TimeLimit limit, TimeSpan value) => new() { numbers = numbers, times = times.SetItem(limit.Name, value) };

    /// <summary>Whether the same limits are set to the same values.</summary>
    public bool Equals(WatchLimits? other) => other is not null && numbers.SequenceEqual(other.numbers) && times.SequenceEqual(other.times);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as WatchLimits);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(numbers.Count, times.Count);
}
