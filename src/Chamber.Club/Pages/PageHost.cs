using System.Net;
using System.Security.Cryptography.X509Certificates;
using Chamber.Club.People;
using Chamber.Club.Sharing;
using Chamber.Club.Store;
using Chamber.Core;
using Chamber.Service.Access;
using Chamber.Service.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Chamber.Club.Pages;

/// <summary>Where the pages of a club are served.</summary>
/// <param name="Listen">Address and port; port 0 for any that is free.</param>
/// <param name="Certificate">For TLS; null for plain HTTP, on this machine or behind a proxy.</param>
/// <param name="BehindProxy">Whether a proxy on this machine stands in front and says who asks.</param>
/// <param name="Broker">Where sensors reach the broker, in words.</param>
internal sealed record PageOptions(IPEndPoint Listen, X509Certificate2? Certificate, bool BehindProxy, string Broker);

/// <summary>The pages of a club: a front at which people sign in, and behind it a site for each home that somebody uses.</summary>
internal static class PageHost
{
    /// <param name="database">The club's database.</param>
    /// <param name="options">Where they are served.</param>
    /// <param name="tell">Tells the silos that something was written in a home.</param>
    /// <param name="time">The clock; null for this machine's.</param>
    public static WebApplication Build(
        ClubDatabase database, PageOptions options, Action<int> tell, TimeProvider? time = null)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(WebModule).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.Configuration.Sources.Clear();
        builder.Logging.ClearProviders().AddSimpleConsole(line => line.SingleLine = true).SetMinimumLevel(LogLevel.Information);
        builder.Logging.AddFilter("Microsoft", LogLevel.Warning);
        builder.Logging.AddFilter(typeof(SiteAuthentication).FullName, LogLevel.Warning);

        // They are where the passwords are, and as safe.
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.WebHost.ConfigureKestrel(kestrel => Listen(kestrel, options));
        builder.WebHost.UseStaticWebAssets();
        AddParts(builder.Services, database, options, tell, time ?? TimeProvider.System);
        var app = builder.Build();
        Use(app, options);
        return app;
    }

    private static void AddParts(IServiceCollection services, ClubDatabase database, PageOptions options,
        Action<int> tell, TimeProvider time)
    {
        services.AddSingleton(database);
        services.AddSingleton(time);
        services.AddSingleton<SignIns>();
        services.AddSingleton<Members>();
        services.AddSingleton<Invitations>();
        services.AddSingleton<Sensors>();
        services.AddSingleton<ClubExperience>();
        services.AddSingleton<ClubLearned>();
        services.AddSingleton<Lockout>();
        services.AddSingleton<Programs>();
        services.AddSingleton<PeopleDesk>();
        services.AddSingleton<SettingsDesk>();
        services.AddSingleton<IXmlRepository>(new PageKeys(database));
        services.AddDataProtection().SetApplicationName(ClubParts.Name);
        services.AddOptions<KeyManagementOptions>().Configure<IXmlRepository>((keys, repository) => keys.XmlRepository = repository);
        services.AddSingleton(provider => new ClubParts(database, provider.GetRequiredService<SignIns>(),
            provider.GetRequiredService<Members>(), provider.GetRequiredService<IDataProtectionProvider>(),
            provider.GetRequiredService<IXmlRepository>(), provider.GetRequiredService<ILoggerFactory>(), time, options.Broker, tell,
            provider.GetRequiredService<ClubLearned>()));
        services.AddSingleton<HomeSites>();
        services.AddHostedService<SiteKeeper>();
        services.AddDoor();
        services.AddRazorComponents();
        services.AddAntiforgery(antiforgery =>
        {
            antiforgery.Cookie.Name = "chamber-club-form";
            antiforgery.Cookie.SameSite = SameSiteMode.Strict;
            antiforgery.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        });
    }

    private static void Use(WebApplication app, PageOptions options)
    {
        app.TurnAwayWhenStopping();
        if (options.BehindProxy)
        {
            // From a proxy on this machine alone, which is what this takes them from by itself.
            app.UseForwardedHeaders(new() { ForwardedHeaders = Microsoft.AspNetCore.HttpOverrides.ForwardedHeaders.All });
        }

        app.Use((context, next) =>
        {
            SecurityHeaders.Add(context.Response.Headers, context.Request.Host);
            return next(context);
        });
        app.UseExceptionHandler(failed => failed.Run(context => Front.Problem(
            context.Features.Get<IExceptionHandlerFeature>()?.Error is StoreException ? StatusCodes.Status503ServiceUnavailable
                : StatusCodes.Status500InternalServerError).ExecuteAsync(context)));
        app.UseAuthentication();
        app.Use((context, next) => Door.IntoHomes(context, next));
        app.UseStatusCodePagesWithReExecute("/problem/{0}");
        app.UseRouting();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.MapStaticAssets().AllowAnonymous();
        app.MapFront();
        app.MapPeople();
        app.MapSettings();
        app.MapKeeper();
    }

    private static void Listen(KestrelServerOptions kestrel, PageOptions options)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = (long)Bounds.RequestBody.High;
        kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        kestrel.Listen(options.Listen, listen =>
        {
            if (options.Certificate is { } certificate)
            {
                listen.UseHttps(certificate);
            }
        });
    }
}
