namespace Chamber.Mqtt.Connection;

/// <summary>
/// How long to wait before the next try: doubling from half a second to a minute, each with a jitter of a half either way, so
/// that a home's clients do not all come back in one moment after a power cut.
/// </summary>
internal sealed class ReconnectWait(Random random)
{
    public static readonly TimeSpan Shortest = TimeSpan.FromSeconds(0.5);
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);

    private TimeSpan next = Shortest;

    public TimeSpan Next()
    {
        var wait = next * (0.5 + random.NextDouble());
        next = next * 2 < Longest ? next * 2 : Longest;
        return wait;
    }

    public void Reset() => next = Shortest;
}
