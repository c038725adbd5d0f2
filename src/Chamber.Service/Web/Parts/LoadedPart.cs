using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.Components;

namespace Chamber.Service.Web.Parts;

/// <summary>A page, or a part of one, that reads the home before it shows itself: what it needs is loaded first, and no thread waits for
/// that.</summary>
public abstract class LoadedPart : ComponentBase
{
    private bool isLoaded;

    [Inject]
    private PageHome Home { get; set; } = null!;

    public override async Task SetParametersAsync(ParameterView parameters)
    {
        parameters.SetParameterProperties(this);
        if (!isLoaded || ShowsOther)
        {
            isLoaded = true;
            await LoadAsync();
        }

        await base.SetParametersAsync(ParameterView.Empty);
    }

    /// <summary>Whether what it is asked for now is something else than what it shows.</summary>
    protected virtual bool ShowsOther => false;

    /// <summary>Works out what is shown, as often as it takes: it may change nothing but what is shown.</summary>
    protected abstract void Load();

    /// <summary>Reads the home, and works out what is shown.</summary>
    protected virtual Task LoadAsync() => AskAsync(Load);

    /// <summary>The same of a part of what is shown.</summary>
    protected async Task AskAsync(Action compute) => await Home.AskAsync(() =>
    {
        compute();
        return true;
    });
}
