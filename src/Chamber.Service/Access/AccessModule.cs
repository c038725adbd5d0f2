using System.Net;
using System.Security.Claims;
using System.Security.Cryptography;
using Chamber.Service.Telemetry;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;

namespace Chamber.Service.Access;

/// <summary>Whether somebody who is looking at an open page would still be let in.</summary>
internal delegate ValueTask<bool> StillIn(ClaimsPrincipal who);

/// <summary>
/// Wires access into the web server. On loopback whoever sits at this machine is the owner until somebody signs up; then, and on any
/// other address, people sign in, and guests may look.
/// </summary>
internal static class AccessModule
{
    /// <summary>May look: everybody who got in.</summary>
    public const string Look = "look";

    /// <summary>May change things: people, not guests.</summary>
    public const string Change = "change";

    /// <summary>May let others in: people, not programs, so that a token that got lost makes no further ones.</summary>
    public const string LetIn = "let in";

    public const string CookieName = "chamber";

    private const string Bearer = "Bearer ";
    private const string Scheme = CookieAuthenticationDefaults.AuthenticationScheme;
    private const string StampClaim = "stamp";
    private const string GuestClaim = "guest";
    private const string SessionClaim = "session";

    /// <summary>How long a cookie lasts that is not used.</summary>
    public static readonly TimeSpan CookieLife = TimeSpan.FromDays(30);

    private static readonly string[] LocalNames = ["localhost", "127.0.0.1", "[::1]"];

    private static readonly ClaimsPrincipal AtThisMachine = Principal("at this machine", [], [Change, LetIn], "loopback");

    /// <param name="services">Where to add it.</param>
    /// <param name="accessPath">The file of those who may use the page.</param>
    /// <param name="keysPath">The folder of the keys that seal cookies.</param>
    public static void AddAccess(this IServiceCollection services, string accessPath, string keysPath)
    {
        // Beside the data and not in a home directory, which the user of a system service does not have: without them every restart would
        // sign people out.
        services.AddDataProtection().SetApplicationName("chamber").PersistKeysToFileSystem(Closed(keysPath));
        services.AddSingleton(new AccessFile(accessPath));
        services.AddSingleton<Lockout>();
        services.AddSingleton<Gatekeeper>();
        services.AddSingleton<HomeNetwork>();
        services.AddSingleton<StillIn>(provider => who => new(StillHolds(provider.GetRequiredService<Gatekeeper>(), who)));
        services.AddAuthentication(Scheme).AddCookie(options =>
        {
            options.Cookie.Name = CookieName;
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.ExpireTimeSpan = CookieLife;
            options.SlidingExpiration = true;
            options.LoginPath = "/sign-in";
            options.AccessDeniedPath = "/sign-in";
            options.Events.OnValidatePrincipal = Revalidate;
            options.Events.OnRedirectToLogin = context => RedirectPagesOnly(context, StatusCodes.Status401Unauthorized);
            options.Events.OnRedirectToAccessDenied = context => RedirectPagesOnly(context, StatusCodes.Status403Forbidden);
        });
        services.AddAuthorizationBuilder()
            .AddPolicy(Look, policy => policy.RequireAuthenticatedUser())
            .AddPolicy(Change, policy => policy.RequireRole(Change))
            .AddPolicy(LetIn, policy => policy.RequireRole(LetIn))
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.AddAntiforgery(options =>
        {
            options.Cookie.SameSite = SameSiteMode.Strict;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        });
    }

    private static DirectoryInfo Closed(string path) => OperatingSystem.IsWindows()
        ? Directory.CreateDirectory(path)
        : Directory.CreateDirectory(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);

    /// <param name="app">The web server.</param>
    /// <param name="behindProxy">Whether a proxy is known to stand in front: then nobody is at this machine.</param>
    public static void UseAccess(this IApplicationBuilder app, bool behindProxy = false)
    {
        app.Use((context, next) =>
        {
            SecurityHeaders.Add(context.Response.Headers, context.Request.Host);
            return next(context);
        });
        app.UseAuthentication();
        app.Use((context, next) =>
        {
            context.User = ShownToken(context.Request) is { } token
                ? Program(context, token)
                : IsAtThisMachine(context, behindProxy) ? AtThisMachine : context.User;
            return next(context);
        });
        app.UseAuthorization();
    }

    public static Task SignInAsync(HttpContext context, Entry entry)
    {
        KnownBrowser.Remember(context, entry.Name!);
        return SignInAsync(context, Principal(entry.Name!, [new(StampClaim, entry.Stamp!), NewSession()], [Change, LetIn], Scheme));
    }

    public static Task SignInGuestAsync(HttpContext context, GuestLink link) =>
        SignInAsync(context, Principal(link.For, [new(GuestClaim, link.Id), NewSession()], [], Scheme));

    /// <summary>Ends the session here and wherever a copy of its cookie is.</summary>
    public static Task SignOutAsync(HttpContext context)
    {
        if (IsByCookie(context.User) && context.User.FindFirstValue(SessionClaim) is { } session)
        {
            context.RequestServices.GetRequiredService<Gatekeeper>().End(session);
        }

        return context.SignOutAsync(Scheme);
    }

    private static Task SignInAsync(HttpContext context, ClaimsPrincipal who) =>
        context.SignInAsync(Scheme, who, new() { IsPersistent = true });

    private static Claim NewSession() => new(SessionClaim, RandomNumberGenerator.GetHexString(16));

    // A proxy on this machine makes everybody look local, so a request that came through one is never taken as local, and since a proxy
    // can be set up so that it shows no sign, nobody is once somebody has signed up. Nor is a request for another host name: a foreign
    // page can point its own name at 127.0.0.1 (DNS rebinding).
    private static bool IsAtThisMachine(HttpContext context, bool behindProxy) =>
        !behindProxy && IsFromThisMachine(context.Connection, context.Request)
            && !context.RequestServices.GetRequiredService<Gatekeeper>().HasPeople;

    private static bool IsFromThisMachine(ConnectionInfo connection, HttpRequest request) =>
        connection.RemoteIpAddress is { } remote && IPAddress.IsLoopback(remote)
        && connection.LocalIpAddress is { } local && IPAddress.IsLoopback(local)
        && LocalNames.Contains(request.Host.Host)
        && !ProxySigns.In(request);

    /// <summary>Whether somebody got in by signing in, or by a guest's link, and not by sitting at this machine.</summary>
    public static bool IsByCookie(ClaimsPrincipal user) => user.Identity?.AuthenticationType == Scheme;

    /// <summary>Whether whoever got in would still be let in: they have not signed out, and nobody has taken their access or link away, or
    /// changed their password.</summary>
    public static bool StillHolds(Gatekeeper gate, ClaimsPrincipal user) =>
        !IsByCookie(user) || (user.FindFirstValue(SessionClaim) is { } session && !gate.HasEnded(session)
            && (user.FindFirstValue(GuestClaim) is { } link
            ? gate.IsGuest(link)
            : gate.StillHolds(user.Identity?.Name ?? "", user.FindFirstValue(StampClaim) ?? "")));

    /// <summary>The token that a program shows (RFC 6750); null when it shows none, or calls a page.</summary>
    public static string? ShownToken(HttpRequest request) => ApiPath.IsApi(request.Path) ? TokenOf(request) : null;

    /// <summary>The same whatever is called.</summary>
    public static string? TokenOf(HttpRequest request) =>
        request.Headers.Authorization is [{ } shown] && shown.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase)
            ? shown[Bearer.Length..].Trim()
            : null;

    // Whoever shows a token is judged by it alone, also on this machine: a program that was shut out is out everywhere.
    private static ClaimsPrincipal Program(HttpContext context, string token) =>
        context.RequestServices.GetRequiredService<Gatekeeper>().ProgramOf(token) is { } program
            ? Principal(program.For, [], program.May == ProgramMay.Write ? [Change] : [], "token")
            : new();

    private static ClaimsPrincipal Principal(string name, IEnumerable<Claim> claims, IEnumerable<string> roles, string scheme) =>
        new(new ClaimsIdentity([new(ClaimTypes.Name, name), .. claims, .. roles.Select(role => new Claim(ClaimTypes.Role, role))], scheme));

    private static Task Revalidate(CookieValidatePrincipalContext context)
    {
        if (!StillHolds(context.HttpContext.RequestServices.GetRequiredService<Gatekeeper>(), context.Principal!))
        {
            context.RejectPrincipal();
        }

        return Task.CompletedTask;
    }

    // A program that calls the API wants a status, not a page to sign in on.
    private static Task RedirectPagesOnly(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        if (ApiPath.IsApi(context.Request.Path) || context.Request.Path.StartsWithSegments(TelemetryModule.MetricsPath))
        {
            context.Response.StatusCode = status;
            if (status == StatusCodes.Status401Unauthorized)
            {
                context.Response.Headers.WWWAuthenticate = "Bearer";
            }
        }
        else
        {
            context.Response.Redirect(context.RedirectUri);
        }

        return Task.CompletedTask;
    }
}
