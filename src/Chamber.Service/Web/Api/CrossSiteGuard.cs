using Chamber.Service.Access;

namespace Chamber.Service.Web.Api;

/// <summary>
/// Keeps foreign pages from writing, and from opening a live connection, through the browser of somebody who may: such a request carries
/// their cookie, or comes from their own machine, without their will. Browsers say where a request comes from (Fetch Metadata, the Origin
/// header of RFC 6454); programs say nothing and act on purpose.
/// </summary>
internal static class CrossSiteGuard
{
    public static async Task Check(HttpContext context, RequestDelegate next)
    {
        if (IsLive(context.Request) && IsForeign(context.Request))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync("A page from elsewhere gets no live connection here.", context.RequestAborted);
            return;
        }

        if (ApiPath.IsApi(context.Request.Path) && !IsSafe(context.Request.Method) && IsForeign(context.Request))
        {
            await ApiProblems.Write(context, ApiProblems.Make(
                StatusCodes.Status403Forbidden,
                    "A page from elsewhere may not change anything here. Call the API from Chamber's own page or from a program.", null));
            return;
        }

        await next(context);
    }

    // The live connection of a page does whatever its reader may do, and a web socket is open to every page of every site (RFC 6455,
    // section 10.2).
    private static bool IsLive(HttpRequest request) =>
        request.Path.StartsWithSegments("/_blazor") || request.HttpContext.WebSockets.IsWebSocketRequest
            || request.Headers.Upgrade.Count > 0;

    private static bool IsSafe(string method) => HttpMethods.IsGet(method) || HttpMethods.IsHead(method) || HttpMethods.IsOptions(method);

    private static bool IsForeign(HttpRequest request)
    {
        if (request.Headers.TryGetValue("Sec-Fetch-Site", out var site))
        {
            return site != "same-origin" && site != "none";
        }

        return request.Headers.TryGetValue("Origin", out var origin)
            && !(Uri.TryCreate(origin, UriKind.Absolute, out var from)
                && string.Equals(from.Authority, request.Host.Value, StringComparison.OrdinalIgnoreCase)
                && (from.Scheme == request.Scheme || ProxySigns.In(request)));
    }
}
