using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Makes the backups by schedule. One that failed is tried again within the hour.</summary>
internal sealed class BackupWorker(Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock,
    ILogger<BackupWorker> logger) : Worker
{
    private static readonly TimeSpan AfterStart = TimeSpan.FromMinutes(5);

    // Looked at again at least so often: the clock may be set, and the home may change its zone.
    private static readonly Duration LookAgain = Duration.FromHours(1);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        if (!settings.Backups.On)
        {
            return;
        }

        var backups = new ScheduledBackups(settings.Backups, data, settings.Zone);
        await Task.Delay(AfterStart, clock, stop);
        while (true)
        {
            Pass(backups, Now);
            await Task.Delay(Wait(backups, Now), clock, stop);
        }
    }

    // One moment for both: on a slow machine the next backup may be due before a second look at the clock.
    private static TimeSpan Wait(ScheduledBackups backups, Instant now) => Duration.Min(backups.Next(now) - now, LookAgain).ToTimeSpan();

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    private void Pass(ScheduledBackups backups, Instant now)
    {
        try
        {
            if (backups.Pass(store, now) is { Written: { } report, Removed: var removed })
            {
                Log.BackedUp(logger, report.Path, report.Bytes, removed);
            }

            Note(null);
        }
        catch (Exception problem) when (problem is StoreException or BadInputException or IOException or UnauthorizedAccessException)
        {
            Log.BackupTrouble(logger, Log.Trace(problem), problem.Message);
            Note(problem.Message);
        }
    }

    // For chamber check, which runs as another user and outside the unit, and could not find it out.
    private void Note(string? trouble)
    {
        try
        {
            if (store.Ledger.Settings.Get(ScheduledBackups.TroubleSetting) != trouble)
            {
                store.Ledger.Settings.Set(ScheduledBackups.TroubleSetting, trouble);
            }
        }
        catch (StoreException)
        {
            // A file that cannot be written is reported everywhere already.
        }
    }
}
