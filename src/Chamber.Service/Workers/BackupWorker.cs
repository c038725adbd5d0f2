using Chamber.Service.Backups;
using Chamber.Service.Configuration;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Workers;

/// <summary>Makes the backups by schedule. One that failed is tried again within the hour.</summary>
internal sealed class BackupWorker(Settings settings, DataDirectory data, ChamberStore store, TimeProvider clock, ILogger<BackupWorker> logger) : BackgroundService
{
    private static readonly TimeSpan AfterStart = TimeSpan.FromMinutes(5);

    // Looked at again at least so often: the clock may be set, and the home may change its zone.
    private static readonly Duration LookAgain = Duration.FromHours(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        if (!settings.Backups.On)
        {
            return;
        }

        var backups = new ScheduledBackups(settings.Backups, data, settings.Zone);
        try
        {
            await Task.Delay(AfterStart, clock, stoppingToken);
            while (true)
            {
                Pass(backups, Now);
                await Task.Delay(Duration.Min(backups.Next(Now) - Now, LookAgain).ToTimeSpan(), clock, stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // Asked to stop.
        }
    }

    private Instant Now => Instant.FromDateTimeOffset(clock.GetUtcNow());

    private void Pass(ScheduledBackups backups, Instant now)
    {
        try
        {
            if (backups.Pass(store, now) is { Written: { } report, Removed: var removed })
            {
                Log.BackedUp(logger, report.Path, report.Bytes, removed);
            }
        }
        catch (Exception problem) when (problem is StoreException or IOException or UnauthorizedAccessException)
        {
            Log.BackupTrouble(logger, Log.Trace(problem), problem.Message);
        }
    }
}
