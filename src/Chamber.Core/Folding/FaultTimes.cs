using System.Runtime.CompilerServices;

namespace Chamber.Core.Folding;

/// <summary>The last few times of a fault, enough to tell whether there were too many within a span. A value: a copy goes its own
/// way.</summary>
internal struct FaultTimes
{
    private const int Kept = 8;
    private Kept8 times;
    private int count;

    /// <summary>Whether there was one.</summary>
    public readonly bool Any => count > 0;

    /// <summary>The last one; null before the first.</summary>
    public readonly Moment? Last => count == 0 ? null : times[(count - 1) % Kept];

    /// <summary>Adds one; returns whether at least <paramref name="least"/> (1 to 8) lie within <paramref name="span"/> up to it.</summary>
    public bool Add(Moment at, int least, TimeSpan span)
    {
        times[count++ % Kept] = at;
        var wanted = Math.Clamp(least, 1, Kept);
        return count >= wanted && at - times[(count - wanted) % Kept] <= span;
    }

    [InlineArray(Kept)]
    private struct Kept8
    {
        private Moment first;
    }
}
