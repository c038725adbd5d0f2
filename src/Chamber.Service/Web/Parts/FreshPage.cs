using System.Diagnostics;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Components;

namespace Chamber.Service.Web.Parts;

/// <summary>
/// A page that reads the home when it opens and again whenever it has changed. Reading costs the server time, so a page that takes
/// long to read is read less often: at most a tenth of a core goes to it, whatever arrives.
/// </summary>
public abstract class FreshPage : LoadedPart, IDisposable
{
    private const int RestForEachWork = 9;

    private readonly CancellationTokenSource closed = new();
    private TimeSpan cost;
    private long readAt;
    private int waiting;

    [Inject]
    private HomeChangeFeed Changes { get; set; } = null!;

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
        {
            Changes.Beat += Wake;
        }
    }

    public void Dispose()
    {
        Changes.Beat -= Wake;
        closed.Cancel();
        closed.Dispose();
        GC.SuppressFinalize(this);
    }

    private void Wake()
    {
        if (Interlocked.Exchange(ref waiting, 1) == 0)
        {
            _ = ReadAgainAsync();
        }
    }

    private async Task ReadAgainAsync()
    {
        try
        {
            var rest = (cost * RestForEachWork) - Stopwatch.GetElapsedTime(readAt);
            if (rest > TimeSpan.Zero)
            {
                await Task.Delay(rest, TimeProvider.System, closed.Token);
            }

            Volatile.Write(ref waiting, 0);
            await InvokeAsync(async () =>
            {
                await LoadAsync();
                StateHasChanged();
            });
        }
        catch (Exception gone) when (gone is OperationCanceledException or ObjectDisposedException)
        {
            // The page was left.
        }
        catch (Exception problem)
        {
            await DispatchExceptionAsync(problem);
        }
    }

    protected override async Task LoadAsync()
    {
        var started = Stopwatch.GetTimestamp();
        await base.LoadAsync();
        readAt = Stopwatch.GetTimestamp();
        cost = Stopwatch.GetElapsedTime(started, readAt);
    }
}
