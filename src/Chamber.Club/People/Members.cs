using Chamber.Club.Store;

namespace Chamber.Club.People;

/// <summary>A home and what somebody may do there.</summary>
public sealed record OwnHome(int Home, string Name, Role Role);

/// <summary>Somebody who belongs to a home.</summary>
public sealed record Member(int Person, string Name, Role Role);

/// <summary>Who belongs to which homes.</summary>
internal sealed class Members(ClubDatabase club)
{
    private readonly LastAnswers<(int Person, string Home), OwnHome?> known = new();

    /// <summary>The homes of a person, by name.</summary>
    public async Task<IReadOnlyList<OwnHome>> HomesOfAsync(int person, CancellationToken cancel) =>
        await club.AtDoorAsync(new(Person: person), session => session.RowsAsync(
            "SELECT h.key, h.name, m.role FROM membership m JOIN home h ON h.key = m.home WHERE m.person = $1 ORDER BY h.name",
            row => new OwnHome(row.GetInt32(0), row.GetString(1), RoleText.Of(row.GetString(2))), person), cancel);

    /// <summary>A home by its name as this person may use it; null when they do not belong there, or there is none. While the
    /// database is away whoever was let in is let in.</summary>
    public Task<OwnHome?> FindAsync(int person, string home, CancellationToken cancel) => known.AskAsync((person, home), async () =>
        await club.AtDoorAsync(new(Person: person), session => session.RowsAsync(
            "SELECT h.key, h.name, m.role FROM membership m JOIN home h ON h.key = m.home WHERE m.person = $1 AND h.name = $2",
            row => new OwnHome(row.GetInt32(0), row.GetString(1), RoleText.Of(row.GetString(2))), person, home), cancel) is [var one]
            ? one : null);

    /// <summary>Who belongs to a home, by name.</summary>
    public async Task<IReadOnlyList<Member>> OfAsync(int home, CancellationToken cancel) =>
        await club.AtDoorAsync(new(Home: home), session => session.RowsAsync(
            "SELECT p.key, p.name, m.role FROM membership m JOIN person p ON p.key = m.person WHERE m.home = $1 ORDER BY p.name",
            row => new Member(row.GetInt32(0), row.GetString(1), RoleText.Of(row.GetString(2))), home), cancel);

    /// <summary>Somebody belongs to a home no longer: they are out at their next request.</summary>
    /// <exception cref="FormatException">Nobody would be left to let others in.</exception>
    public Task RemoveAsync(int home, int person, CancellationToken cancel) => club.AtDoorAsync(new(Home: home), async session =>
    {
        await session.LockAsync([home]);
        var owners = await session.RowsAsync(
            "SELECT person FROM membership WHERE home = $1 AND role = 'owner'", row => row.GetInt32(0), home);
        return owners is [var last] && last == person
            ? throw new FormatException("They are the only owner: nobody could let others in. Invite another owner first.")
            : await session.ExecuteAsync("DELETE FROM membership WHERE home = $1 AND person = $2", home, person);
    }, cancel);
}
