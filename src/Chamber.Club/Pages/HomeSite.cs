using System.Security.Claims;
using Chamber.Club.People;
using Chamber.Club.Store;
using Chamber.Core.Forecasts.Learning;
using Chamber.Service.Access;
using Chamber.Service.Configuration;
using Chamber.Service.Health;
using Chamber.Service.Home;
using Chamber.Service.Photos;
using Chamber.Service.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Chamber.Club.Pages;

/// <summary>
/// Page and API of one home, put together as in the service of a single home, with the club's database in the place of the data file. It
/// knows no other home. Whoever receives requests hands it those under its address.
/// </summary>
internal sealed class HomeSite : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly SiteServer server;
    private readonly PathString root;

    private HomeSite(WebApplication app, SiteServer server, PathString root) => (this.app, this.server, this.root) = (app, server, root);

    /// <param name="home">Which home.</param>
    /// <param name="club">What all sites share.</param>
    /// <param name="shared">The addresses that they share.</param>
    /// <param name="cancel">Ends the start.</param>
    public static async Task<HomeSite> StartAsync(OwnHome home, ClubParts club, SharedEndpoints shared, CancellationToken cancel)
    {
        var server = new SiteServer();
        var app = Build(home, club, server, await ClubHomeContext.OwnAsync(club.Database, home.Home, cancel),
            await club.Learned.OfAsync(home.Home, cancel));
        app.Use(PlaceUnderRoot);
        app.UseHomePage(page => page.UseAuthentication().UseAuthorization());
        ((IEndpointRouteBuilder)app).DataSources.Add(shared.Source);
        app.MapHomePages();
        await app.StartAsync(cancel);
        return new(app, server, PathOf(home.Name));
    }

    /// <summary>The web server of a home, of which nothing is served yet.</summary>
    public static WebApplication Build(OwnHome home, ClubParts club, SiteServer server, OwnParts own, SharedKnowledge? others)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            // Whose styles and scripts they are.
            ApplicationName = typeof(WebModule).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.Configuration.Sources.Clear();
        builder.Services.AddSingleton(club.Logs);
        builder.Services.AddSingleton<IServer>(server);
        builder.WebHost.UseStaticWebAssets();
        AddHome(builder.Services, home, club, $"{PathOf(home.Name)}/", own, others);
        AddAccess(builder.Services, home, club);
        builder.Services.AddHomePage();
        return builder.Build();
    }

    /// <summary>Under which path a home stands, without the slash at its end.</summary>
    public static PathString PathOf(string home) => new($"/homes/{home}");

    public Task ServeAsync(HttpContext context, SiteVisitor visitor) => server.ServeAsync(context, root, visitor);

    public async ValueTask DisposeAsync()
    {
        await app.StopAsync(CancellationToken.None);
        await app.DisposeAsync();
    }

    private static void AddHome(
        IServiceCollection services, OwnHome home, ClubParts club, string root, OwnParts own, SharedKnowledge? others)
    {
        var (settings, data) = (own.Settings, ClubHomeContext.Data);
        var host = new HomeHost(root, root[1..], club.Broker, $"/people/{home.Name}", $"/settings/{home.Name}");
        var records = new ClubHomeRecords(club.Database, home.Home);
        var clock = new HomeClock(club.Time, settings.Zone);
        services.AddSingleton(settings);
        services.AddSingleton(data);
        services.AddSingleton(host);
        services.AddSingleton(clock);
        services.AddSingleton<TimeProvider>(clock);
        services.AddSingleton(new SettingsInForce(settings, data, []));
        services.AddSingleton<PhotoShelf>(new ClubPhotos(club.Database, home.Home));
        services.AddSingleton(new ProbeUnits(() => new Dictionary<string, string>()));
        services.AddSingleton<HomeChanges>();
        services.AddSingleton<BrokenParts>();
        services.AddSingleton<ForeignChanges>(records.VersionAsync);
        services.AddSingleton<PageTrouble>(provider => () => TroubleOf(provider.GetRequiredService<HomeContext>(), club));
        services.AddSingleton(ClubHomeContext.Of(club.Database.Home(home.Home, null, () => club.Tell(home.Home)), records, host, own, clock,
            () => others));
    }

    private static void AddAccess(IServiceCollection services, OwnHome home, ClubParts club)
    {
        services.AddSingleton(club.Seal);
        services.AddDataProtection().SetApplicationName(ClubParts.Name);
        services.Configure<KeyManagementOptions>(options => options.XmlRepository = club.Keys);
        services.AddAuthentication(SiteVisitor.Scheme).AddScheme<AuthenticationSchemeOptions, SiteAuthentication>(SiteVisitor.Scheme, null);
        services.AddAuthorizationBuilder()
            .AddPolicy(AccessModule.Look, policy => policy.RequireAuthenticatedUser())
            .AddPolicy(AccessModule.Change, policy => policy.RequireRole(AccessModule.Change))
            .AddPolicy(AccessModule.LetIn, policy => policy.RequireRole(AccessModule.LetIn))
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.AddSingleton<StillIn>(who => StillInAsync(who, home, club));
    }

    private static string? TroubleOf(HomeContext home, ClubParts club) => club.Database.IsAway
        ? $"The club's database does not answer. You see what was known at {home.ReadAt ?? "no time"}, and nothing can be written down. It is "
            + "tried again by itself."
        : null;

    // A database that is away shuts nobody out of a page that is open.
    private static async ValueTask<bool> StillInAsync(ClaimsPrincipal who, OwnHome home, ClubParts club)
    {
        try
        {
            return await club.SignIns.OfAsync(SiteVisitor.SignIn(who), CancellationToken.None) is { } known
                && await club.Members.FindAsync(known.Key, home.Name, CancellationToken.None) is { } now
                && now.Role > Role.Guest == SiteVisitor.MayChange(who);
        }
        catch (StoreException)
        {
            return true;
        }
    }

    // Answers that say where something new is to be found say it from the home's own root.
    private static Task PlaceUnderRoot(HttpContext context, RequestDelegate next)
    {
        var root = context.Request.PathBase;
        context.Response.OnStarting(() =>
        {
            if (context.Response.Headers.Location is [{ } to] && to.StartsWith("/api/", StringComparison.Ordinal))
            {
                context.Response.Headers.Location = root + to;
            }

            return Task.CompletedTask;
        });
        return next(context);
    }
}
