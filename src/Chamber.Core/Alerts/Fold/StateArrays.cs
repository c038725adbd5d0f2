namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// States by index, for as many probes or batches as there are. They are values without references to anything that changes, so that a copy
/// of the array is independent.
/// </summary>
internal static class StateArrays
{
    /// <summary>The same states and one more, which must be the next.</summary>
    public static TState[] WithOneAt<TState>(this TState[] states, int index)
        where TState : struct =>
        index == states.Length
            ? [.. states, default]
            : throw new InvalidOperationException($"The next index is {states.Length}, not {index}.");

    /// <summary>The same states but for one.</summary>
    public static TState[] Without<TState>(this TState[] states, int index)
        where TState : struct =>
        [.. states[..index], .. states[(index + 1)..]];
}
