namespace Chamber.Service.Home;

/// <summary>Says by another number that something has written to the home, whoever that was; asked again and again.</summary>
internal delegate ValueTask<long> ForeignChanges(CancellationToken cancel);

/// <summary>
/// Tells the parts of this process that somebody wrote to the ledger through it. What other processes write shows in
/// <see cref="ForeignChanges"/>; what this one writes need not.
/// </summary>
internal sealed class HomeChanges
{
    private long count;
    private long heard;

    /// <summary>Rises with every change.</summary>
    public long Count => Interlocked.Read(ref count);

    /// <summary>Rises with what arrives by itself: readings, refusals, and what the watch makes of them.</summary>
    public long Heard => Interlocked.Read(ref heard);

    public void NoteHeard() => Interlocked.Increment(ref heard);

    public void Note() => Interlocked.Increment(ref count);
}
