using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Sends what waits in the outbox: at once when something was put there, otherwise when its time comes.</summary>
internal sealed class NoticeWorker(NoticeSender sender, NoticeBell bell, TimeProvider clock, ILogger<NoticeWorker> logger) : Worker
{
    // The command line may have put something there too.
    private static readonly Duration LongestSleep = Duration.FromSeconds(10);

    // A notice that a peer is just taking must not be cut off: the peer has it and would be sent it again.
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(3);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        using var hard = new CancellationTokenSource();
        await using var asked = stop.Register(() => hard.CancelAfter(Grace));
        List<Task> sending = [];
        try
        {
            while (!stop.IsCancellationRequested)
            {
                var isWell = await HaveEnded(sending);
                await Sleep(isWell ? Begin(sending, hard.Token) : null, sending, stop);
            }
        }
        finally
        {
            await Task.WhenAll(sending);
        }
    }

    // Each channel for itself: one that hangs is not waited for by the others.
    private Instant? Begin(List<Task> sending, CancellationToken cancel)
    {
        try
        {
            sending.AddRange(sender.StartDue(cancel));
            return sender.NextAt();
        }
        catch (StoreException problem)
        {
            Log.NoticeTrouble(logger, Log.Trace(problem), problem.Message);
            return null;
        }
    }

    /// <returns>Whether the ledger could be used.</returns>
    private async Task<bool> HaveEnded(List<Task> sending)
    {
        var isWell = true;
        foreach (var ended in sending.Where(channel => channel.IsCompleted).ToList())
        {
            sending.Remove(ended);
            try
            {
                await ended;
            }
            catch (StoreException problem)
            {
                isWell = false;
                Log.NoticeTrouble(logger, Log.Trace(problem), problem.Message);
            }
        }

        return isWell;
    }

    private async Task Sleep(Instant? next, IEnumerable<Task> sending, CancellationToken stop)
    {
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        var length = next is { } at ? Duration.Max(Duration.Zero, Duration.Min(LongestSleep, at - now)) : LongestSleep;
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var woken = bell.WaitAsync(limit.Token);
        await Task.WhenAny([woken, Task.Delay(length.ToTimeSpan(), clock, limit.Token), .. sending]);
        await limit.CancelAsync();
        stop.ThrowIfCancellationRequested();
    }
}
