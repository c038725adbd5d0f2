namespace Chamber.Mqtt.Intake;

/// <summary>The bounds of an intake.</summary>
public sealed record IntakeOptions
{
    /// <summary>More messages than this wait at their sender. 16384 by default.</summary>
    public int QueueLengthMax { get; init; } = 16_384;

    /// <summary>Messages in one commit, at most. 4096 by default.</summary>
    public int BatchLengthMax { get; init; } = 4_096;

    /// <summary>A small batch in which nobody waits for an acknowledgement waits this long for more. 20 ms by default; zero never
    /// waits.</summary>
    public TimeSpan Linger { get; init; } = TimeSpan.FromMilliseconds(20);

    /// <summary>The first wait after a failed commit; it doubles up to <see cref="RetryWaitMax"/>.</summary>
    public TimeSpan RetryWaitMin { get; init; } = TimeSpan.FromMilliseconds(200);

    /// <summary>The longest wait between two tries of a commit.</summary>
    public TimeSpan RetryWaitMax { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>
    /// Whether an error is the store's own condition (no room, locked, damaged), which passes or is fixed, and is waited out for as
    /// long as it takes. Any other error is taken to lie in what was to be stored. By default, errors of files and of memory pass.
    /// </summary>
    public Func<Exception, bool> Passes { get; init; } = problem => problem is IOException or OutOfMemoryException;

    /// <summary>So many tries, with growing waits, before an error that does not pass is looked for in single messages. 5 unless
    /// told.</summary>
    public int TriesMax { get; init; } = 5;

    internal TimeSpan WaitAfter(TimeSpan wait) => TimeSpan.FromTicks(Math.Min(2 * wait.Ticks, RetryWaitMax.Ticks));
}
