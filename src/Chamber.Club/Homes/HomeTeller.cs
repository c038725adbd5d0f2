using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace Chamber.Club.Homes;

/// <summary>Tells homes that something was taken in for them, one call a home, and waits for no answer. Who could not be told is told with
/// the next; what is lost all the same the home finds by itself.</summary>
internal sealed class HomeTeller : IAsyncDisposable
{
    private readonly CancellationTokenSource ended = new();
    private readonly Lock gate = new();
    private readonly HashSet<int> untold = [];
    private readonly IHost host;
    private readonly Task joining;

    public HomeTeller(string address)
    {
        host = SiloHost.Client(address);
        joining = Task.Run(async () =>
        {
            await host.StartAsync(ended.Token);
            Tell();
        });
    }

    public void Tell(IReadOnlyCollection<int> homes)
    {
        lock (gate)
        {
            untold.UnionWith(homes);
        }

        if (joining.IsCompletedSuccessfully)
        {
            Tell();
        }
    }

    public async ValueTask DisposeAsync()
    {
        await ended.CancelAsync();
        await joining.ContinueWith(_ => { }, TaskScheduler.Default);
        await host.StopAsync();
        host.Dispose();
        ended.Dispose();
    }

    private void Tell()
    {
        var grains = host.Services.GetRequiredService<IGrainFactory>();
        int[] homes;
        lock (gate)
        {
            homes = [.. untold];
            untold.Clear();
        }

        foreach (var home in homes)
        {
            _ = TellAsync(grains.GetGrain<IHomeGrain>(home), home);
        }
    }

    private async Task TellAsync(IHomeGrain grain, int home)
    {
        try
        {
            await grain.TellAsync();
        }
        catch (Exception problem) when (problem is OrleansException or TimeoutException or OperationCanceledException)
        {
            lock (gate)
            {
                untold.Add(home);
            }
        }
    }
}
