namespace Chamber.Service.Workers;

/// <summary>
/// The end of patience after a request to stop: a verb deep in a sum, or a part that hangs, is not waited for any longer. Whatever was
/// acknowledged is committed, and what was under way is rolled back by the journal at the next start.
/// </summary>
internal static class StopDeadline
{
    /// <summary>How long a process may take to come to its end.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>From now on the process has <see cref="Patience"/> left.</summary>
    /// <param name="exitCode">What the shell is given when it did not end by itself.</param>
    public static void Start(int exitCode)
    {
        // Its own thread: those of the pool may all be busy with what does not stop.
        var waiting = new Thread(() =>
        {
            using var never = new ManualResetEventSlim();
            never.Wait(Patience);
            Console.Error.WriteLine($"chamber: still busy {Patience.TotalSeconds} s after being asked to stop, so it ends here; what was "
                + $"taken in is recorded.");
            Environment.Exit(exitCode);
        })
        {
            IsBackground = true,
            Name = "stop deadline",
        };
        waiting.Start();
    }
}
