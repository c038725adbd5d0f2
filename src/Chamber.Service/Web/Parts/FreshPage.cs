using Microsoft.AspNetCore.Components;

namespace Chamber.Service.Web.Parts;

/// <summary>A page that reads the home when it opens and again every half minute, and says as of when it speaks.</summary>
public abstract class FreshPage : ComponentBase, IDisposable
{
    private static readonly TimeSpan Period = TimeSpan.FromSeconds(30);

    private readonly CancellationTokenSource closed = new();

    /// <summary>Reads what the page shows.</summary>
    protected abstract void Load();

    protected override void OnInitialized() => Load();

    protected override void OnAfterRender(bool firstRender)
    {
        if (firstRender)
        {
            _ = KeepFreshAsync();
        }
    }

    public void Dispose()
    {
        closed.Cancel();
        closed.Dispose();
        GC.SuppressFinalize(this);
    }

    private async Task KeepFreshAsync()
    {
        // Real time: a demo that runs faster must not make the browser run faster too.
        using var timer = new PeriodicTimer(Period);
        try
        {
            while (await timer.WaitForNextTickAsync(closed.Token))
            {
                await InvokeAsync(() =>
                {
                    Load();
                    StateHasChanged();
                });
            }
        }
        catch (OperationCanceledException)
        {
            // The page was left.
        }
        catch (Exception problem) when (problem is not ObjectDisposedException)
        {
            await DispatchExceptionAsync(problem);
        }
    }
}
