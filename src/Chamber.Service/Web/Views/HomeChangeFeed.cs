using Chamber.Service.Home;

namespace Chamber.Service.Web.Views;

/// <summary>
/// Tells the open pages that the home has changed: at most once a second, however many readings arrive, and at least every half
/// minute, since time passes too.
/// </summary>
internal sealed class HomeChangeFeed(ForeignChanges foreign, HomeChanges changes) : Worker
{
    private static readonly TimeSpan Period = TimeSpan.FromSeconds(1);
    private const int QuietBeatsMax = 30;

    private (long Foreign, long Own, long Heard) last;
    private int quiet;

    /// <summary>Read afresh: something is new. Called on its own thread; continue on yours.</summary>
    public event Action? Beat;

    protected override async Task WorkAsync(CancellationToken stop)
    {
        // Real time: a demo that runs faster must not make the browser run faster too.
        using var timer = new PeriodicTimer(Period);
        while (await timer.WaitForNextTickAsync(stop))
        {
            // Nobody asks while no page is open.
            if (Beat is { } beat && await IsDueAsync(stop))
            {
                beat();
            }
        }
    }

    private async ValueTask<bool> IsDueAsync(CancellationToken stop)
    {
        var now = (await ForeignAsync(stop), changes.Count, changes.Heard);
        quiet++;
        if (now == last && quiet < QuietBeatsMax)
        {
            return false;
        }

        (last, quiet) = (now, 0);
        return true;
    }

    private async ValueTask<long> ForeignAsync(CancellationToken stop)
    {
        try
        {
            return await foreign(stop);
        }
        catch (StoreException)
        {
            // That it cannot be asked is new too: whoever reads the home next is told what is wrong.
            return long.MinValue;
        }
    }
}
