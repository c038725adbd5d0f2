namespace Chamber.Service.Notify;

/// <summary>Wakes whoever sends notices: rung when something was put into the outbox that is due at once.</summary>
internal sealed class NoticeBell : IDisposable
{
    private readonly SemaphoreSlim work = new(0, 1);
    private readonly Lock gate = new();

    /// <summary>Something is due now.</summary>
    public void Ring()
    {
        lock (gate)
        {
            if (work.CurrentCount == 0)
            {
                work.Release();
            }
        }
    }

    /// <summary>Ends when it was rung.</summary>
    public Task WaitAsync(CancellationToken cancel) => work.WaitAsync(cancel);

    public void Dispose() => work.Dispose();
}
