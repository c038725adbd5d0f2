using System.Security.Claims;
using System.Text.Encodings.Web;
using Chamber.Club.People;
using Chamber.Service.Access;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;

namespace Chamber.Club.Pages;

/// <summary>Who comes to a home's site, as the front of the club has let them in.</summary>
/// <param name="Who">Their name, what they may do there, and by which sign-in they came.</param>
internal sealed record SiteVisitor(ClaimsPrincipal Who)
{
    public const string Scheme = "club";
    private const string SignInClaim = "sign-in";

    public static SiteVisitor Of(SignedIn who, string signIn, Role role)
    {
        var identity = new ClaimsIdentity(
            [
                new(ClaimTypes.NameIdentifier, FormattableString.Invariant($"{who.Key}")), new(ClaimTypes.Name, who.Name),
                new(SignInClaim, signIn),
            ], Scheme);
        if (role > Role.Guest)
        {
            identity.AddClaim(new(ClaimTypes.Role, AccessModule.Change));
        }

        if (role == Role.Owner)
        {
            identity.AddClaim(new(ClaimTypes.Role, AccessModule.LetIn));
        }

        return new(new ClaimsPrincipal(identity));
    }

    /// <summary>A program, which lets nobody in.</summary>
    public static SiteVisitor Of(LetInProgram program)
    {
        var identity = new ClaimsIdentity([new(ClaimTypes.Name, program.Name)], Scheme);
        if (program.Writes)
        {
            identity.AddClaim(new(ClaimTypes.Role, AccessModule.Change));
        }

        return new(new ClaimsPrincipal(identity));
    }

    /// <summary>The secret of the cookie by which somebody came.</summary>
    public static string SignIn(ClaimsPrincipal who) => who.FindFirstValue(SignInClaim) ?? "";

    /// <summary>What they may do, as it was when they came.</summary>
    public static bool MayChange(ClaimsPrincipal who) => who.IsInRole(AccessModule.Change);
}

/// <summary>Takes over whom the front has let in. A guest who wants to change something is refused; nobody is sent to sign in
/// again.</summary>
internal sealed class SiteAuthentication(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    protected override Task<AuthenticateResult> HandleAuthenticateAsync() => Task.FromResult(
        Context.Features.Get<SiteVisitor>() is { } visitor
            ? AuthenticateResult.Success(new(visitor.Who, SiteVisitor.Scheme))
            : AuthenticateResult.NoResult());
}
