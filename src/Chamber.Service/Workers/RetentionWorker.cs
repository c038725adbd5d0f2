using Chamber.Service.Configuration;
using Chamber.Service.Photos;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Once a day sums up readings that are older than they are kept, and lets old closed alerts go. In small steps, so that readings
/// never wait.</summary>
internal sealed class RetentionWorker(Settings settings, ChamberStore store, PhotoFiles photos, TimeProvider clock,
    ILogger<RetentionWorker> logger) : Worker
{
    private static readonly TimeSpan AfterStart = TimeSpan.FromMinutes(10);
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);
    private static readonly TimeSpan Breath = TimeSpan.FromMilliseconds(200);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        await Task.Delay(AfterStart, clock, stop);
        while (true)
        {
            await Pass(stop);
            await Task.Delay(Day, clock, stop);
        }
    }

    private async Task Pass(CancellationToken stop)
    {
        try
        {
            var now = Instant.FromDateTimeOffset(clock.GetUtcNow());
            store.Ledger.Alerts.Forget(now - settings.Retention.Alerts);
            var (removed, stretches) = (0L, 0L);
            for (var more = true; more;)
            {
                var result = store.Journal.RollUp(now - settings.Retention.Minutes);
                (removed, stretches, more) = (removed + result.Removed, stretches + result.Stretches, result.More);
                await Task.Delay(Breath, clock, stop);
            }

            photos.Sweep(store.Facts.Since(0), now);
            if (removed > 0)
            {
                Log.RolledUp(logger, removed, stretches);
            }
        }
        catch (Exception problem) when (problem is StoreException or IOException or UnauthorizedAccessException)
        {
            Log.RetentionTrouble(logger, Log.Trace(problem), problem.Message);
        }
    }
}
