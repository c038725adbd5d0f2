using System.Security.Claims;
using Chamber.Club.People;
using Chamber.Service.Access;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace Chamber.Club.Pages;

/// <summary>Who is signed in to the club, by a sealed cookie that stands in the database, and the way from there into a home.</summary>
internal static class Door
{
    public const string CookieName = "chamber-club";

    private const string Scheme = CookieAuthenticationDefaults.AuthenticationScheme;
    private const string SignInClaim = "sign-in";
    private static readonly object Known = new();

    public static void AddDoor(this IServiceCollection services)
    {
        services.AddAuthentication(Scheme).AddCookie(options =>
        {
            options.Cookie.Name = CookieName;
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.ExpireTimeSpan = AccessModule.CookieLife;
            options.SlidingExpiration = true;
            options.LoginPath = "/sign-in";
            options.AccessDeniedPath = "/problem/403";
            options.Events.OnValidatePrincipal = KnowAsync;
        });
        services.AddAuthorizationBuilder().SetFallbackPolicy(
            new Microsoft.AspNetCore.Authorization.AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
    }

    public static async Task SignInAsync(HttpContext context, SignIns signIns, SignedIn who)
    {
        var secret = await signIns.BeginAsync(who, context.RequestAborted);
        KnownBrowser.Remember(context, who.Name);
        var claims = new Claim[] { new(ClaimTypes.NameIdentifier, FormattableString.Invariant($"{who.Key}")), new(SignInClaim, secret) };
        await context.SignInAsync(Scheme, new(new ClaimsIdentity(claims, Scheme)), new() { IsPersistent = true });
    }

    public static async Task SignOutAsync(HttpContext context, SignIns signIns)
    {
        await signIns.EndAsync(SecretOf(context), context.RequestAborted);
        await context.SignOutAsync(Scheme);
    }

    /// <summary>Who asks; null when they have not signed in.</summary>
    public static SignedIn? Who(HttpContext context) => context.Items[Known] as SignedIn;

    /// <summary>Hands what is asked under a home's address to that home's site, for those who belong there. To everybody else such a home
    /// is not there.</summary>
    public static async Task IntoHomes(HttpContext context, RequestDelegate next)
    {
        if (context.Request.Path.Value?.Split('/', 4) is not ["", "homes", { Length: > 0 } name, ..] parts)
        {
            await next(context);
            return;
        }

        if (IsApi(parts) && AccessModule.TokenOf(context.Request) is { } token)
        {
            await ProgramIntoAsync(context, name, token);
            return;
        }

        if (Who(context) is not { } who)
        {
            await ToSignIn(context, parts);
            return;
        }

        if (await context.RequestServices.GetRequiredService<Members>().FindAsync(who.Key, name, context.RequestAborted) is not { } home)
        {
            await Refuse(context, next, parts, StatusCodes.Status404NotFound);
        }
        else if (parts.Length == 3)
        {
            context.Response.Redirect($"{HomeSite.PathOf(name)}/{context.Request.QueryString}");
        }
        else if (!await context.RequestServices.GetRequiredService<HomeSites>().ServeAsync(context, home,
            SiteVisitor.Of(who, SecretOf(context), home.Role)))
        {
            await Refuse(context, next, parts, StatusCodes.Status503ServiceUnavailable);
        }
    }

    // Who shows a token is judged by it alone.
    private static async Task ProgramIntoAsync(HttpContext context, string name, string token)
    {
        var services = context.RequestServices;
        if (await services.GetRequiredService<Programs>().FindAsync(token, context.RequestAborted) is not { } known
            || known.Home.Name != name)
        {
            context.Response.Headers.WWWAuthenticate = "Bearer";
            await Results.Problem("No program of this home has that token: its owner makes one on the page People and sensors.",
                statusCode: StatusCodes.Status401Unauthorized).ExecuteAsync(context);
        }
        else if (!await services.GetRequiredService<HomeSites>().ServeAsync(context, known.Home, SiteVisitor.Of(known.Program)))
        {
            await Results.Problem(ProblemPage.Sentence(StatusCodes.Status503ServiceUnavailable),
                statusCode: StatusCodes.Status503ServiceUnavailable).ExecuteAsync(context);
        }
    }

    // Somebody who signed out, or whose password has changed, is out at once.
    private static async Task KnowAsync(CookieValidatePrincipalContext context)
    {
        var signIns = context.HttpContext.RequestServices.GetRequiredService<SignIns>();
        if (await signIns.OfAsync(context.Principal!.FindFirstValue(SignInClaim) ?? "", context.HttpContext.RequestAborted) is { } who)
        {
            context.HttpContext.Items[Known] = who;
        }
        else
        {
            context.RejectPrincipal();
        }
    }

    private static string SecretOf(HttpContext context) => context.User.FindFirstValue(SignInClaim) ?? "";

    private static async Task ToSignIn(HttpContext context, string[] parts)
    {
        if (IsApi(parts))
        {
            await Results.Problem("Sign in first, on the club's page.", statusCode: StatusCodes.Status401Unauthorized)
                .ExecuteAsync(context);
        }
        else
        {
            await context.ChallengeAsync(Scheme);
        }
    }

    private static async Task Refuse(HttpContext context, RequestDelegate next, string[] parts, int status)
    {
        if (IsApi(parts))
        {
            await Results.Problem(ProblemPage.Sentence(status), statusCode: status).ExecuteAsync(context);
        }
        else
        {
            (context.Request.Method, context.Request.Path) = (HttpMethods.Get, $"/problem/{status}");
            await next(context);
        }
    }

    private static bool IsApi(string[] parts) => parts is [_, _, _, var rest] && ApiPath.IsApi($"/{rest}");
}
