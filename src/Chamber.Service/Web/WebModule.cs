using Chamber.Service.Access;
using Chamber.Service.Health;
using Chamber.Service.Telemetry;
using Chamber.Service.Web.Api;
using Chamber.Service.Web.Views;
using Microsoft.AspNetCore.ResponseCompression;

namespace Chamber.Service.Web;

/// <summary>Wires the page into the service's web server.</summary>
internal static class WebModule
{
    public static void AddPage(this IServiceCollection services, string accessPath, string keysPath)
    {
        services.AddAccess(accessPath, keysPath);
        services.AddHomePage();
        services.AddFenced<FirstPage>();
    }

    /// <summary>Page and API of a home, whoever lets people in.</summary>
    public static void AddHomePage(this IServiceCollection services)
    {
        services.AddApi();
        services.AddScoped<PageHome>();
        services.AddSingleton<HomeChangeFeed>();
        services.AddFenced(provider => provider.GetRequiredService<HomeChangeFeed>());
        services.AddCascadingAuthenticationState();
        services.AddRazorComponents().AddInteractiveServerComponents();

        // Over TLS too: the cookie goes with no request that another site makes in the background (SameSite), and each page has a token of
        // its own, so the length of an answer tells a stranger nothing (Gluck, Harris, Prado 2013: BREACH).
        services.AddResponseCompression(options =>
        {
            options.EnableForHttps = true;
            options.MimeTypes = [.. ResponseCompressionDefaults.MimeTypes, "text/calendar", "image/svg+xml", ApiProblems.ContentType];
        });
    }

    public static void UsePage(this WebApplication app, bool behindProxy = false)
    {
        app.UseHomePage(page => page.UseAccess(behindProxy));
        app.MapHomeParts(isAtHome: true);
        app.MapHomePages();
        app.MapGet("/set-up/backups/{name}", (string name, Configuration.DataDirectory data) =>
            Home.Writing.Safekeeping.Find(data, name) is { } backup
            ? Results.File(backup.FullName, "application/vnd.sqlite3", backup.Name)
            : Results.NotFound()).RequireAuthorization(AccessModule.Change);
    }

    /// <param name="app">The web server.</param>
    /// <param name="access">Says who is there, and keeps out whoever may not come in.</param>
    public static void UseHomePage(this WebApplication app, Action<IApplicationBuilder> access)
    {
        app.TurnAwayWhenStopping();
        app.UseResponseCompression();

        // Somebody who mistyped an address gets a page with a way back; a program that calls the API gets its own answer.
        app.UseWhen(context => !ApiPath.IsApi(context.Request.Path) && !context.Request.Path.StartsWithSegments(
            TelemetryModule.MetricsPath), pages => pages.UseStatusCodePagesWithReExecute("/not-found"));

        // After it, so that the page in the place of an unknown address is looked up like any other.
        app.UseRouting();
        app.UseApiProblems();
        access(app);
        app.Use(QueryCheck.Check);
        app.UseAntiforgery();
    }

    /// <summary>Styles, scripts and API. They take what a request wants from the services of whoever received it, and hold none of their
    /// own: sites of several homes can have the same.</summary>
    /// <param name="app">The web server.</param>
    /// <param name="isAtHome">Whether the home has a data file here; without one what rests on it is not offered.</param>
    public static void MapHomeParts(this WebApplication app, bool isAtHome)
    {
        app.MapStaticAssets().AllowAnonymous();
        app.MapApi(isAtHome);
    }

    /// <summary>The pages, with the live connection of each: these belong to one home.</summary>
    public static void MapHomePages(this WebApplication app) => app.MapRazorComponents<App>().AddInteractiveServerRenderMode();

    /// <summary>
    /// Answers 503 from the moment the service was asked to stop. A page that loses its live connection calls again at once, by a
    /// connection that is still open; taken in then, it would hold the end up until patience is over.
    /// </summary>
    public static void TurnAwayWhenStopping(this WebApplication app) => app.Use((context, next) =>
    {
        if (!app.Lifetime.ApplicationStopping.IsCancellationRequested)
        {
            return next(context);
        }

        context.Response.StatusCode = StatusCodes.Status503ServiceUnavailable;
        context.Response.Headers.Connection = "close";
        return Task.CompletedTask;
    });
}
