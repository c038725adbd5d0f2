namespace Chamber.Service.Ground;

/// <summary>
/// Work that goes on beside everything else until the service stops. Once it was asked to stop nothing that ends it is a fault: on a slow
/// machine the host may take the store away while the last turn still runs. What was not recorded then is done again at the next start.
/// </summary>
internal abstract class Worker : BackgroundService
{
    /// <summary>The work; ends when <paramref name="stop"/> asks for it, by returning or by throwing.</summary>
    protected abstract Task WorkAsync(CancellationToken stop);

    protected sealed override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            await WorkAsync(stoppingToken);
        }
        catch (Exception) when (stoppingToken.IsCancellationRequested)
        {
            // Asked to stop.
        }
    }
}
