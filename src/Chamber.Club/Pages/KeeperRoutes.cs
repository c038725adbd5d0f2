using Chamber.Club.People;
using Chamber.Club.Store;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Chamber.Club.Pages;

/// <summary>Load and health of the club, and handing homes over: for its keepers alone, who see no home's content.</summary>
internal static class KeeperRoutes
{
    public static void MapKeeper(this IEndpointRouteBuilder app)
    {
        var keeper = app.MapGroup("/keeper");
        keeper.MapGet("", (HttpContext context, ClubDatabase club, HomeSites sites) =>
            ShowAsync(context, club, sites, () => Task.FromResult<string?>(null)));
        keeper.MapPost("/homes", (HttpContext context, ClubDatabase club, HomeSites sites, Invitations invitations,
            [FromForm] string? home, [FromForm] string? whom) => ShowAsync(context, club, sites, async () =>
        {
            var name = (home ?? "").Trim();
            var known = await club.HomesAsync([name], context.RequestAborted);
            var key = known.TryGetValue(name, out var found) ? found : await club.AddHomeAsync(name, context.RequestAborted);
            return Link(context, await invitations.HandOverAsync(key, whom ?? "", context.RequestAborted));
        }));
        keeper.MapPost("/keepers", (HttpContext context, ClubDatabase club, HomeSites sites, Invitations invitations,
            [FromForm] string? whom) => ShowAsync(context, club, sites,
            async () => Link(context, await invitations.InviteKeeperAsync(whom ?? "", context.RequestAborted))));
    }

    private static string Link(HttpContext context, string secret) => $"{PeopleRoutes.PageAddress(context)}/invitation/{secret}";

    private static async Task<IResult> ShowAsync(HttpContext context, ClubDatabase club, HomeSites sites, Func<Task<string?>> act)
    {
        if (Door.Who(context) is not { IsKeeper: true })
        {
            return Front.Problem(StatusCodes.Status404NotFound);
        }

        var (link, problem) = ((string?)null, (string?)null);
        try
        {
            link = await act();
        }
        catch (Exception refused) when (refused is FormatException or StoreException { Fault: StoreFault.Content })
        {
            problem = refused.Message;
        }

        return Front.Page<KeeperPage>(new()
        {
            [nameof(KeeperPage.Club)] = await ClubState.ReadAsync(club, context.RequestAborted),
            [nameof(KeeperPage.Sites)] = sites.Count,
            [nameof(KeeperPage.Link)] = link,
            [nameof(KeeperPage.Problem)] = problem,
        });
    }
}
