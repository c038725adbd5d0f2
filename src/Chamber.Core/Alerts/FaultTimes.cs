namespace Chamber.Core.Alerts;

/// <summary>The last few times of a fault, enough to tell whether there were too many within a span.</summary>
internal struct FaultTimes
{
    private const int Kept = 8;
    private long[]? times;
    private int count;

    /// <summary>The last one; 0 before the first.</summary>
    public readonly long Last => count == 0 ? 0 : times![(count - 1) % Kept];

    /// <summary>Adds one; returns whether at least <paramref name="limit"/> (at most 8) lie within <paramref name="span"/> up to it.</summary>
    public bool Add(long at, int limit, long span)
    {
        times ??= new long[Kept];
        times[count++ % Kept] = at;
        var wanted = Math.Clamp(limit, 1, Kept);
        return count >= wanted && at - times[(count - wanted) % Kept] <= span;
    }

    public readonly FaultTimes Copy() => this with { times = times is null ? null : [.. times] };
}
