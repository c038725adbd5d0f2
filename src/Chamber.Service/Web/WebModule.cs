using Chamber.Service.Web.Access;

namespace Chamber.Service.Web;

/// <summary>Wires the page into the service's web server.</summary>
internal static class WebModule
{
    public static void AddPage(this IServiceCollection services, string accessPath)
    {
        services.AddAccess(accessPath);
        services.AddSingleton<PageHome>();
        services.AddCascadingAuthenticationState();
        services.AddRazorComponents().AddInteractiveServerComponents();
    }

    public static void UsePage(this WebApplication app)
    {
        app.UseAccess();
        app.UseAntiforgery();
        app.MapStaticAssets().AllowAnonymous();
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }
}
