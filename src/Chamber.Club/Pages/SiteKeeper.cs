using Microsoft.Extensions.Hosting;

namespace Chamber.Club.Pages;

/// <summary>Lets go of sites that nobody uses, and of all when the process ends: before the web server waits for open pages.</summary>
internal sealed class SiteKeeper(HomeSites sites, TimeProvider time) : BackgroundService
{
    private static readonly TimeSpan Round = TimeSpan.FromMinutes(1);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Round, time);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                await sites.LetGoOfIdleAsync();
            }
        }
        catch (OperationCanceledException)
        {
            await sites.DisposeAsync();
        }
    }
}
