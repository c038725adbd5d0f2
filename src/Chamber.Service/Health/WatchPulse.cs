namespace Chamber.Service.Health;

/// <summary>What the thread of the watch last did, for those who ask whether it is alive. Counts the machine's own seconds, also in a
/// demo.</summary>
internal sealed class WatchPulse(TimeProvider machine)
{
    /// <summary>A watch that has not come round for so long hangs: it comes round every second.</summary>
    public static readonly TimeSpan AgeMax = TimeSpan.FromMinutes(1);

    private long beat = machine.GetTimestamp();
    private long rounds;
    private volatile bool isReady;
    private volatile string? trouble;

    /// <summary>Whether the past has been folded again after the start.</summary>
    public bool IsReady => isReady;

    /// <summary>What keeps the watch from its work, though it goes on trying; null when nothing does.</summary>
    public string? Trouble => trouble;

    /// <summary>How often it has come round.</summary>
    public long Rounds => Interlocked.Read(ref rounds);

    /// <summary>Whether it comes round.</summary>
    public bool IsAlive => machine.GetElapsedTime(Interlocked.Read(ref beat)) < AgeMax;

    /// <summary>It came round.</summary>
    public void Beat(string? problem)
    {
        trouble = problem;
        Interlocked.Exchange(ref beat, machine.GetTimestamp());
        Interlocked.Increment(ref rounds);
    }

    public void Ready() => isReady = true;
}
