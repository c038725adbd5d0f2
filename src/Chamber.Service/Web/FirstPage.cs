using Chamber.Service.Configuration;

namespace Chamber.Service.Web;

/// <summary>
/// Opens the page once after the start, so that the first person does not wait until its code is compiled. Only on this machine:
/// anywhere else nobody may look without signing in.
/// </summary>
internal sealed class FirstPage(Settings settings, IHostApplicationLifetime lifetime) : Worker
{
    private static readonly TimeSpan Timeout = TimeSpan.FromSeconds(30);

    protected override async Task WorkAsync(CancellationToken stop)
    {
        if (PageAddress.Of(settings.Page) is not { } address || !address.StartsWith("http://", StringComparison.Ordinal))
        {
            return;
        }

        var started = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        using var registration = lifetime.ApplicationStarted.Register(started.SetResult);
        try
        {
            await started.Task.WaitAsync(stop);
            using var http = new HttpClient { Timeout = Timeout };
            using var answer = await http.GetAsync(address, stop);
        }
        catch (Exception problem) when (problem is HttpRequestException or OperationCanceledException)
        {
            // Whoever opens the page next is told what is wrong with it.
        }
    }
}
