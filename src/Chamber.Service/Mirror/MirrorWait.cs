namespace Chamber.Service.Mirror;

/// <summary>How long to wait after so many failures in a row: doubling from a second to five minutes, each between half of that and the whole, so that several Chambers don't knock at once.</summary>
internal sealed class MirrorWait(Random jitter)
{
    public static readonly TimeSpan First = TimeSpan.FromSeconds(1);
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(5);

    // A server may ask for a long pause, but not for one without end.
    private static readonly TimeSpan AskedMax = TimeSpan.FromHours(1);

    private int failures;

    public TimeSpan Next(TimeSpan? asked)
    {
        var whole = Math.Min(Longest.TotalSeconds, First.TotalSeconds * Math.Pow(2, Math.Min(failures++, 20)));
        var own = TimeSpan.FromSeconds(whole * (1 + jitter.NextDouble()) / 2);
        return asked is { } told && told > own ? TimeSpan.FromTicks(Math.Min(told.Ticks, AskedMax.Ticks)) : own;
    }

    public void Reset() => failures = 0;
}
