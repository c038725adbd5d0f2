using Chamber.Service.Access;

namespace Chamber.Service.Web.Api;

/// <summary>Signing in and out for programs; the page has its own form.</summary>
internal static class AccessRoutes
{
    public static void MapAccess(this RouteGroupBuilder routes)
    {
        routes.MapPost("/sign-in", SignIn).AllowAnonymous().WithMetadata(new SignInBodyLimit()).WithName("SignIn")
            .WithSummary("Signs a person in; the answer sets the cookie that further requests send.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status401Unauthorized)
                .Produces(StatusCodes.Status204NoContent);
        routes.MapPost("/sign-out", async (HttpContext context) =>
        {
            await AccessModule.SignOutAsync(context);
            return TypedResults.NoContent();
        }).AllowAnonymous().WithName("SignOut").WithSummary("Forgets who is signed in.");
    }

    private static async Task SignIn(HttpContext context, Gatekeeper gate, SignInRequest who)
    {
        var entry = gate.SignIn(who.Name, who.Password, context.Connection.RemoteIpAddress?.ToString() ?? "unknown",
            KnownBrowser.Of(context, who.Name));
        if (!entry.Ok)
        {
            await ApiProblems.Write(context, ApiProblems.Make(StatusCodes.Status401Unauthorized, entry.Problem, null));
            return;
        }

        await AccessModule.SignInAsync(context, entry);
        context.Response.StatusCode = StatusCodes.Status204NoContent;
    }
}

/// <summary>Whoever is not let in yet sends no more than a name and a password.</summary>
[AttributeUsage(AttributeTargets.Class)]
internal sealed class SignInBodyLimit : Attribute, Microsoft.AspNetCore.Http.Metadata.IRequestSizeLimitMetadata
{
    public long? MaxRequestBodySize => (long)Core.Bounds.SignInBody.High;
}

/// <summary>Who wants in.</summary>
/// <param name="Name">Their name.</param>
/// <param name="Password">Their password.</param>
internal sealed record SignInRequest(string Name, string Password);
