using Chamber.Club.People;
using Chamber.Club.Sharing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Chamber.Club.Pages;

/// <summary>Who and what is let in to a home: for its owners alone. To everybody else the page is not there.</summary>
internal static class PeopleRoutes
{
    public static void MapPeople(this IEndpointRouteBuilder app)
    {
        var home = app.MapGroup("/people/{home}");
        home.MapGet("", (HttpContext context, PeopleDesk people, string home) =>
            people.ShowAsync(context, home, _ => Task.FromResult(new Done())));
        home.MapPost("/invite", (HttpContext context, PeopleDesk people, string home, [FromForm] string? whom, [FromForm] string? role) =>
            people.ShowAsync(context, home, async own => new(Link: $"{PageAddress(context)}/invitation/{await people.Invitations
                .InviteAsync(own.Home, AsRole(role), whom ?? "", context.RequestAborted)}")));
        home.MapPost("/take-back", (HttpContext context, PeopleDesk people, string home, [FromForm] string? link) =>
            people.ShowAsync(context, home, async own =>
            {
                await people.Invitations.TakeBackAsync(own.Home, link ?? "", context.RequestAborted);
                return new(Said: "The link works no longer.");
            }));
        home.MapPost("/remove", (HttpContext context, PeopleDesk people, string home, [FromForm] int person) =>
            people.ShowAsync(context, home, async own =>
            {
                await people.Members.RemoveAsync(own.Home, person, context.RequestAborted);
                return new(Said: "They are out at their next request.");
            }));
        home.MapPost("/sensors", (HttpContext context, PeopleDesk people, string home, [FromForm] string? name,
            [FromForm] string? bridge) =>
            people.ShowAsync(context, home, async own => new(Sensor: await people.Sensors.AddAsync(
                own.Home, own.Name, (name ?? "").Trim(), bridge is not null, context.RequestAborted))));
        home.MapPost("/sensors/remove", (HttpContext context, PeopleDesk people, string home, [FromForm] string? name) =>
            people.ShowAsync(context, home, async own =>
            {
                await people.Sensors.RemoveAsync(own.Home, name ?? "", context.RequestAborted);
                return new(Said: $"{name} is let in no longer, once the broker has its new files.");
            }));
        home.MapPost("/programs", (HttpContext context, PeopleDesk people, string home, [FromForm] string? name,
            [FromForm] string? writes) => people.ShowAsync(context, home, async own => new(Token: await people.Programs.AddAsync(
                own.Home, (name ?? "").Trim(), writes is not null, context.RequestAborted))));
        home.MapPost("/programs/remove", (HttpContext context, PeopleDesk people, string home, [FromForm] string? name) =>
            people.ShowAsync(context, home, async own =>
            {
                await people.Programs.RemoveAsync(own.Home, name ?? "", context.RequestAborted);
                return new(Said: $"{name} is out at its next request.");
            }));
        home.MapPost("/experience", (HttpContext context, PeopleDesk people, string home, [FromForm] string? agree) =>
            people.ShowAsync(context, home, async own =>
            {
                var isAgreed = agree is not null;
                _ = isAgreed ? await people.Experience.AgreeAsync(own.Home, context.RequestAborted)
                    : await people.Experience.WithdrawAsync(own.Home, context.RequestAborted);
                return new(Said: isAgreed ? "Your ended batches teach the other homes from the next gathering on."
                    : "What this home gave is gone.");
            }));
    }

    /// <summary>Under which address whoever asks has reached the club.</summary>
    public static string PageAddress(HttpContext context) => $"{context.Request.Scheme}://{context.Request.Host}";

    private static Role AsRole(string? word) => Enum.TryParse<Role>(word, ignoreCase: true, out var role) && Enum.IsDefined(role)
        ? role : throw new FormatException("Choose owner, member or guest.");
}

/// <summary>What was just done.</summary>
/// <param name="Said">In words.</param>
/// <param name="Link">A link that was made.</param>
/// <param name="Sensor">A sensor that was let in.</param>
/// <param name="Token">The token of a program that was let in.</param>
public sealed record Done(string? Said = null, string? Link = null, LetIn? Sensor = null, string? Token = null);

/// <summary>Shows who belongs to a home after something was done about that.</summary>
internal sealed class PeopleDesk(
    Members members, Invitations invitations, Sensors sensors, Programs programs, ClubExperience experience, ClubParts club)
{
    public Members Members => members;

    public Invitations Invitations => invitations;

    public Sensors Sensors => sensors;

    public Programs Programs => programs;

    public ClubExperience Experience => experience;

    public async Task<IResult> ShowAsync(HttpContext context, string home, Func<OwnHome, Task<Done>> act)
    {
        if (await members.FindAsync(Door.Who(context)!.Key, home, context.RequestAborted) is not { Role: Role.Owner } own)
        {
            return Front.Problem(StatusCodes.Status404NotFound);
        }

        var (done, problem) = (new Done(), (string?)null);
        try
        {
            done = await act(own);
        }
        catch (FormatException refused)
        {
            problem = refused.Message;
        }

        return Front.Page<PeoplePage>(new()
        {
            [nameof(PeoplePage.Home)] = own.Name,
            [nameof(PeoplePage.Done)] = done,
            [nameof(PeoplePage.Problem)] = problem,
            [nameof(PeoplePage.Broker)] = club.Broker,
            [nameof(PeoplePage.Members)] = await members.OfAsync(own.Home, context.RequestAborted),
            [nameof(PeoplePage.Links)] = await invitations.OpenAsync(own.Home, context.RequestAborted),
            [nameof(PeoplePage.HasAgreed)] = await experience.HasAgreedAsync(own.Home, context.RequestAborted),
            [nameof(PeoplePage.Sensors)] = await sensors.OfAsync(own.Home, context.RequestAborted),
            [nameof(PeoplePage.Programs)] = await programs.OfAsync(own.Home, context.RequestAborted),
            [nameof(PeoplePage.Api)] = $"{PeopleRoutes.PageAddress(context)}{HomeSite.PathOf(own.Name)}/api",
        });
    }
}
