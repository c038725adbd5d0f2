using Microsoft.Extensions.DependencyInjection;

namespace Chamber.Club.Homes;

/// <summary>Asks a home, and asks again while the silo that had it goes and another takes it over.</summary>
internal static class HomeAsking
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Again = TimeSpan.FromMilliseconds(200);
    private const int LongerMax = 10;

    /// <exception cref="IOException">No silo answers.</exception>
    public static async Task<T> AskAsync<T>(string address, int home, Func<IHomeGrain, Task<T>> ask, CancellationToken cancel)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(Patience);
        using var host = SiloHost.Client(address);
        try
        {
            await host.StartAsync(limit.Token);
            return await UntilAnsweredAsync(host.Services.GetRequiredService<IGrainFactory>().GetGrain<IHomeGrain>(home), ask, limit.Token);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            throw new IOException("No silo answers. Start one: chamber-club silo");
        }
        finally
        {
            await host.StopAsync(CancellationToken.None);
        }
    }

    /// <summary>The same by whoever has reached the silos already; asks until it is cancelled.</summary>
    public static async Task<T> UntilAnsweredAsync<T>(IHomeGrain grain, Func<IHomeGrain, Task<T>> ask, CancellationToken cancel)
    {
        // A silo under load must not drown in questions that are asked again: each waits a little longer, up to two seconds.
        for (var times = 0; ; times++)
        {
            try
            {
                return await ask(grain);
            }
            catch (Exception problem) when (problem is OrleansException or TimeoutException or OperationCanceledException
                && !cancel.IsCancellationRequested)
            {
                // A question that waited too long for a home to be placed ends as if somebody had cancelled it.
                await Task.Delay(Again * Math.Min(times + 1, LongerMax), TimeProvider.System, cancel);
            }
        }
    }
}
