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
        while (!stop.IsCancellationRequested)
        {
            var next = await Pass(hard.Token);
            await Sleep(next, stop);
        }
    }

    private async Task<Instant?> Pass(CancellationToken cancel)
    {
        try
        {
            return await sender.SendDueAsync(cancel);
        }
        catch (StoreException problem)
        {
            Log.NoticeTrouble(logger, Log.Trace(problem), problem.Message);
            return null;
        }
    }

    private async Task Sleep(Instant? next, CancellationToken stop)
    {
        var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
        var length = next is { } at ? Duration.Max(Duration.Zero, Duration.Min(LongestSleep, at - now)) : LongestSleep;
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var woken = bell.WaitAsync(limit.Token);
        await Task.WhenAny(woken, Task.Delay(length.ToTimeSpan(), clock, limit.Token));
        await limit.CancelAsync();
        stop.ThrowIfCancellationRequested();
    }
}
