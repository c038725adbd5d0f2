using Chamber.Club.Notices;
using Chamber.Club.People;
using Chamber.Club.Store;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Routing;

namespace Chamber.Club.Pages;

/// <summary>What is set for a home and who gets its notices: for its owners alone. To everybody else the page is not there.</summary>
internal static class SettingsRoutes
{
    public static void MapSettings(this IEndpointRouteBuilder app)
    {
        var home = app.MapGroup("/settings/{home}");
        home.MapGet("", (HttpContext context, SettingsDesk desk, string home) =>
            desk.ShowAsync(context, home, null, _ => Task.FromResult<string?>(null)));
        home.MapPost("", async (HttpContext context, SettingsDesk desk, string home) =>
        {
            var typed = SettingsForm.Of(await context.Request.ReadFormAsync(context.RequestAborted));
            return await desk.ShowAsync(context, home, typed, own => desk.SetAsync(own, typed, context.RequestAborted));
        });
        home.MapPost("/addresses", (HttpContext context, SettingsDesk desk, string home, [FromForm] string? mail) =>
            desk.ShowAsync(context, home, null, own => desk.AddAsync(own, (mail ?? "").Trim(), context.RequestAborted)));
        home.MapPost("/addresses/remove", (HttpContext context, SettingsDesk desk, string home, [FromForm] string? mail) =>
            desk.ShowAsync(context, home, null, own => desk.RemoveAsync(own, mail ?? "", context.RequestAborted)));
    }
}

/// <summary>Changes what is set for a home, and shows it.</summary>
internal sealed class SettingsDesk(ClubDatabase club, Members members, HomeSites sites, ClubParts parts)
{
    /// <exception cref="FormatException">It cannot be used; the message says where and why.</exception>
    public async Task<string?> SetAsync(OwnHome home, SettingsForm typed, CancellationToken cancel)
    {
        var text = typed.ToText();
        await club.AsAsync(home.Home, session => SettingRows.PutAsync(session, home.Home, text), cancel);
        await sites.ForgetAsync(home.Home);
        parts.Tell(home.Home);
        return "It is set. A page of the home that is open shows it when it is opened again.";
    }

    /// <exception cref="FormatException">It is no address, or there are too many.</exception>
    public async Task<string?> AddAsync(OwnHome home, string mail, CancellationToken cancel)
    {
        var (kept, _) = await HomeAddresses.AddAsync(club, home.Home, mail, cancel);
        parts.Tell(home.Home);
        return $"Notices go to {kept} from now on.";
    }

    public async Task<string?> RemoveAsync(OwnHome home, string mail, CancellationToken cancel)
    {
        await club.AsAsync(home.Home, session => NoticeRows.RemoveAsync(session, home.Home, mail), cancel);
        return $"{mail} gets no more notices.";
    }

    /// <param name="context">Who asks.</param>
    /// <param name="home">The home's name.</param>
    /// <param name="typed">What they typed, which is shown again when it cannot be used.</param>
    /// <param name="act">What is done first; answers in words.</param>
    public async Task<IResult> ShowAsync(HttpContext context, string home, SettingsForm? typed, Func<OwnHome, Task<string?>> act)
    {
        var cancel = context.RequestAborted;
        if (await members.FindAsync(Door.Who(context)!.Key, home, cancel) is not { Role: Role.Owner } own)
        {
            return Front.Problem(StatusCodes.Status404NotFound);
        }

        var (said, problem) = ((string?)null, (string?)null);
        try
        {
            said = await act(own);
        }
        catch (FormatException refused)
        {
            problem = refused.Message;
        }

        var (text, addresses, givenUp) = await club.AsAsync(own.Home, async session => (await SettingRows.ReadAsync(session, own.Home),
            await NoticeRows.AddressesAsync(session, own.Home), await NoticeRows.GivenUpAsync(session, own.Home)), cancel);
        return Front.Page<SettingsPage>(new()
        {
            [nameof(SettingsPage.Home)] = own.Name,
            [nameof(SettingsPage.Form)] = problem is not null && typed is not null ? typed : SettingsForm.Of(text),
            [nameof(SettingsPage.Addresses)] = addresses,
            [nameof(SettingsPage.GivenUp)] = givenUp,
            [nameof(SettingsPage.Said)] = said,
            [nameof(SettingsPage.Problem)] = problem,
        });
    }
}
