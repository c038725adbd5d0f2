using Chamber.Club.People;
using Chamber.Service.Access;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Chamber.Club.Pages;

/// <summary>Signing in and out, one's homes, and invitations: plain pages and plain forms.</summary>
internal static class Front
{
    public static void MapFront(this IEndpointRouteBuilder app)
    {
        app.MapGet("/", async (HttpContext context, Members members) => Page<HomesPage>(new()
        {
            [nameof(HomesPage.Homes)] = await members.HomesOfAsync(Door.Who(context)!.Key, context.RequestAborted),
        }));
        app.MapGet("/sign-in", (string? returnUrl) => SignInPage(returnUrl)).AllowAnonymous();
        app.MapPost("/sign-in", SignInAsync).AllowAnonymous();
        app.MapPost("/sign-out", async (HttpContext context, SignIns signIns, [FromForm] string? leave) =>
        {
            await Door.SignOutAsync(context, signIns);
            return Results.LocalRedirect("~/sign-in");
        });
        app.MapPost("/password", ChangePasswordAsync);
        app.MapGet("/invitation/{secret}", async (HttpContext context, Invitations invitations, string secret) =>
            InvitationPage(await invitations.FindAsync(secret, context.RequestAborted), secret)).AllowAnonymous();
        app.MapPost("/invitation/{secret}", AcceptAsync).AllowAnonymous();
        app.Map("/problem/{status:int}", (int status) => Problem(status)).AllowAnonymous();
        app.MapGet("/health/live", () => "live").AllowAnonymous();
    }

    /// <summary>A page in the place of one that cannot be shown.</summary>
    public static RazorComponentResult Problem(int status)
    {
        var page = Page<ProblemPage>(new() { [nameof(ProblemPage.Status)] = status });
        page.StatusCode = status;
        return page;
    }

    public static RazorComponentResult Page<T>(Dictionary<string, object?> parameters)
        where T : IComponent => new(typeof(T), parameters) { PreventStreamingRendering = true };

    private static RazorComponentResult SignInPage(string? returnUrl, string? problem = null) => Page<SignInPage>(new()
    {
        [nameof(Pages.SignInPage.ReturnUrl)] = returnUrl,
        [nameof(Pages.SignInPage.Problem)] = problem,
    });

    private static RazorComponentResult InvitationPage(Invitation? link, string secret, string? problem = null)
    {
        var page = Page<InvitationPage>(new()
        {
            [nameof(Pages.InvitationPage.Link)] = link,
            [nameof(Pages.InvitationPage.Secret)] = secret,
            [nameof(Pages.InvitationPage.Problem)] = problem,
        });
        page.StatusCode = link is null ? StatusCodes.Status404NotFound : StatusCodes.Status200OK;
        return page;
    }

    private static async Task<IResult> SignInAsync(HttpContext context, SignIns signIns, Lockout lockout, [FromForm] string? name,
        [FromForm] string? password, string? returnUrl)
    {
        var (who, problem) = await TryAsync(context, signIns, lockout, name ?? "", password ?? "");
        if (who is null)
        {
            return SignInPage(returnUrl, problem);
        }

        await Door.SignInAsync(context, signIns, who);

        // Only a path on this server: an address from elsewhere would make the sign-in page a door to a foreign one.
        return Results.LocalRedirect(returnUrl is ['/', not '/' and not '\\', ..] ? returnUrl : "/");
    }

    private static async Task<(SignedIn? Who, string Problem)> TryAsync(
        HttpContext context, SignIns signIns, Lockout lockout, string name, string password)
    {
        var address = context.Connection.RemoteIpAddress?.ToString() ?? "unknown";
        if (Core.Bounds.PersonName.WhyNot(name) is not null || Core.Bounds.Password.WhyNot(password) is not null)
        {
            // Nobody has such a name or password, and neither is reckoned with.
            (name, password) = ("", "");
        }

        TryKey[] counts = KnownBrowser.Of(context, name) is { } browser
            ? [TryKey.Browser(browser)] : [TryKey.Address(address), TryKey.Name(name)];
        if (lockout.Begin(counts) is { } until)
        {
            return (null, $"Too many wrong tries. Try again after {until.UtcDateTime:HH:mm} UTC.");
        }

        if (await signIns.FindAsync(name, password, context.RequestAborted) is not { } who)
        {
            return (null, "The name or the password is not right.");
        }

        lockout.Succeeded(counts);
        return (who, "");
    }

    private static async Task<IResult> AcceptAsync(HttpContext context, Invitations invitations, SignIns signIns, string secret,
        [FromForm] string? name, [FromForm] string? password)
    {
        try
        {
            if (Door.Who(context) is { } who)
            {
                return To(await invitations.AcceptAsync(secret, who.Key, context.RequestAborted));
            }

            var link = await invitations.FindAsync(secret, context.RequestAborted);
            var made = await invitations.SignUpAsync(secret, name ?? "", password ?? "", context.RequestAborted);
            await Door.SignInAsync(context, signIns, made);
            return To(link!);
        }
        catch (FormatException problem)
        {
            return InvitationPage(await invitations.FindAsync(secret, context.RequestAborted), secret, problem.Message);
        }
    }

    private static IResult To(Invitation link) => Results.LocalRedirect(link.Home is { } home ? $"{HomeSite.PathOf(home)}/" : "/keeper");

    private static async Task<IResult> ChangePasswordAsync(HttpContext context, SignIns signIns, Members members,
        [FromForm] string? password)
    {
        var who = Door.Who(context)!;
        string? problem = null;
        try
        {
            await signIns.ChangePasswordAsync(who.Key, password ?? "", context.RequestAborted);
            await Door.SignInAsync(context, signIns, who);
        }
        catch (FormatException refused)
        {
            problem = refused.Message;
        }

        return Page<HomesPage>(new()
        {
            [nameof(HomesPage.Homes)] = await members.HomesOfAsync(who.Key, context.RequestAborted),
            [nameof(HomesPage.Problem)] = problem,
            [nameof(HomesPage.Said)] = problem is null ? "The password is changed; other browsers are signed out." : null,
        });
    }
}
