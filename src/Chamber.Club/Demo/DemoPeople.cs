using Chamber.Club.People;
using Chamber.Club.Store;

namespace Chamber.Club.Demo;

/// <summary>The invented people of the demo: somebody who looks after the club, and the owner, a member and a guest of its first
/// home.</summary>
internal sealed class DemoPeople(ClubDatabase club)
{
    public const string Keeper = "Kim";
    public const string Owner = "Ana";
    public const string Member = "Ben";
    public const string Guest = "Gil";

    /// <summary>Of all of them. What it guards is invented, and reached from this machine alone.</summary>
    public const string Password = "four plain short words";

    private readonly Invitations invitations = new(club, TimeProvider.System);

    /// <summary>Lets them in.</summary>
    /// <param name="home">The home's name.</param>
    /// <param name="cancel">Ends it.</param>
    public async Task ComeInAsync(string home, CancellationToken cancel)
    {
        var key = await club.RequireAsync(home, cancel);
        await SignUpAsync(await invitations.InviteKeeperAsync(Keeper, cancel), Keeper, cancel);
        await SignUpAsync(await invitations.HandOverAsync(key, Owner, cancel), Owner, cancel);
        await SignUpAsync(await invitations.InviteAsync(key, Role.Member, Member, cancel), Member, cancel);
        await SignUpAsync(await invitations.InviteAsync(key, Role.Guest, Guest, cancel), Guest, cancel);
    }

    private Task<SignedIn> SignUpAsync(string secret, string name, CancellationToken cancel) =>
        invitations.SignUpAsync(secret, name, Password, cancel);
}
