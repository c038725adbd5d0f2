using Chamber.Service.Health;

namespace Chamber.Service.Web;

/// <summary>Whether the service lives and watches, for whoever watches it: a word for everybody, the details for those who may see the
/// page.</summary>
internal static class HealthModule
{
    public static void UseHealth(this IEndpointRouteBuilder app)
    {
        app.MapGet("/health/live", (ServiceHealth health) => Word(health.IsLive, "live")).AllowAnonymous().ExcludeFromDescription();
        app.MapGet("/health/ready", (ServiceHealth health) => Word(health.Report().Ready, "ready")).AllowAnonymous()
            .ExcludeFromDescription();
        app.MapGet("/health", (HttpContext context, ServiceHealth health) =>
        {
            var report = health.Report();
            return context.User.Identity?.IsAuthenticated == true
                ? Results.Json(report, JsonText.Options, statusCode: Status(report.Ready))
                : Word(report.Ready, "ready");
        }).AllowAnonymous().ExcludeFromDescription();
    }

    private static IResult Word(bool good, string word) => Results.Text(good ? word : $"not {word}", statusCode: Status(good));

    private static int Status(bool good) => good ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable;
}
