using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Rendering;

namespace Chamber.Service.Web.Parts;

/// <summary>
/// Around a page: where it cannot be shown, a sentence stands in its place, and the way to other pages stays. Its parameters are those of
/// every boundary: what to show, and what to show when that fails.
/// </summary>
public sealed class PageBoundary : ErrorBoundaryBase
{
    [Inject]
    private ILogger<PageBoundary> Logger { get; set; } = null!;

    /// <summary>The request while the page is made for the first time; null on the live connection.</summary>
    [CascadingParameter]
    private HttpContext? Context { get; set; }

    /// <summary>What people are told; details are in the log.</summary>
    public static string Sentence(Exception problem) =>
        problem is StoreException ? problem.Message : "Something went wrong inside Chamber; its log says what. Nothing was half-written.";

    protected override Task OnErrorAsync(Exception exception)
    {
        Log.PageTrouble(Logger, Log.Trace(exception), exception.Message);
        if (Context is { Response.HasStarted: false })
        {
            Context.Response.StatusCode = exception is StoreException ? StatusCodes.Status503ServiceUnavailable
                : StatusCodes.Status500InternalServerError;
        }

        return Task.CompletedTask;
    }

    protected override void BuildRenderTree(RenderTreeBuilder builder)
    {
        if (CurrentException is null)
        {
            builder.AddContent(0, ChildContent);
        }
        else
        {
            builder.AddContent(1, ErrorContent!(CurrentException));
        }
    }
}
