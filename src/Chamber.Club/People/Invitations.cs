using Chamber.Club.Store;
using Chamber.Core;
using NodaTime;
using Npgsql;

namespace Chamber.Club.People;

/// <summary>A link that lets somebody in once.</summary>
/// <param name="Hash">The SHA-256 of its secret, by which it is taken back.</param>
/// <param name="Home">To which home; null to look after the club.</param>
/// <param name="Role">As what; null as a keeper.</param>
/// <param name="Whom">For whom it was made, in the words of whoever made it.</param>
/// <param name="Expires">It is good until then.</param>
/// <param name="IsUsed">Whether somebody has come in by it.</param>
public sealed record Invitation(string Hash, string? Home, Role? Role, string Whom, Instant Expires, bool IsUsed);

/// <summary>Letting people in, by links that are used once and go out of date.</summary>
internal sealed class Invitations(ClubDatabase club, TimeProvider time)
{
    /// <summary>A link that nobody has used by then is void.</summary>
    public static readonly Duration Life = Duration.FromDays(14);

    private Instant Now => Instant.FromDateTimeOffset(time.GetUtcNow());

    /// <summary>An owner invites somebody to a home.</summary>
    /// <returns>The secret; it is known only now.</returns>
    /// <exception cref="FormatException">Nobody is named.</exception>
    public async Task<string> InviteAsync(int home, Role role, string whom, CancellationToken cancel)
    {
        var (secret, named) = (Secret.New(), Named(whom));
        await club.AtDoorAsync(new(Home: home), session => session.ExecuteAsync(
            "INSERT INTO invitation (secret, home, role, whom, expires) VALUES ($1, $2, $3, $4, $5)",
            Secret.Hash(secret), home, role.Word(), named, Now + Life), cancel);
        return secret;
    }

    /// <summary>A keeper hands a home over to its first owner.</summary>
    /// <exception cref="FormatException">It was handed over, or is being handed over; nobody is named.</exception>
    public Task<string> HandOverAsync(int home, string whom, CancellationToken cancel) => ByKeeperAsync(home, "owner", whom, cancel);

    /// <summary>Somebody is to look after the club.</summary>
    public Task<string> InviteKeeperAsync(string whom, CancellationToken cancel) => ByKeeperAsync(null, "keeper", whom, cancel);

    /// <summary>What a link is for; null when there is none.</summary>
    public async Task<Invitation?> FindAsync(string secret, CancellationToken cancel)
    {
        var hash = Secret.Hash(secret);
        return await club.AtDoorAsync(new(Secret: hash), session => session.RowsAsync(Columns + "WHERE i.secret = $1", Read, hash), cancel)
            is [var one] ? one : null;
    }

    /// <summary>Links to a home that are still good.</summary>
    public async Task<IReadOnlyList<Invitation>> OpenAsync(int home, CancellationToken cancel) =>
        await club.AtDoorAsync(new(Home: home), session => session.RowsAsync(
            Columns + "WHERE i.home = $1 AND i.used_by IS NULL AND i.expires > $2 AND NOT i.by_keeper ORDER BY i.expires", Read, home, Now),
            cancel);

    public Task TakeBackAsync(int home, string hash, CancellationToken cancel) => club.AtDoorAsync(new(Home: home),
        session => session.ExecuteAsync("DELETE FROM invitation WHERE secret = $1 AND used_by IS NULL", hash), cancel);

    /// <summary>Somebody who has signed in comes in by a link.</summary>
    /// <exception cref="FormatException">It is no longer good, or they may do as much already.</exception>
    public async Task<Invitation> AcceptAsync(string secret, int person, CancellationToken cancel)
    {
        var hash = Secret.Hash(secret);
        return await club.AtDoorAsync(new(Person: person, Secret: hash), session => EnterAsync(session, hash, person), cancel);
    }

    /// <summary>The same for somebody new, who chooses a name and a password.</summary>
    /// <exception cref="FormatException">The link is no longer good, or name or password cannot be used.</exception>
    public async Task<SignedIn> SignUpAsync(string secret, string name, string password, CancellationToken cancel)
    {
        var (hash, named) = (Secret.Hash(secret), Named(name));
        var hashed = SignIns.Hashed(named, password);
        try
        {
            return await club.AtDoorAsync(new(Secret: hash, Name: named), async session =>
            {
                await GoodAsync(session, hash);
                var person = await session.OneAsync<int>(
                    "INSERT INTO person (name, password) VALUES ($1, $2) RETURNING key", named, hashed);
                await session.NameAsync(person);
                await EnterAsync(session, hash, person);
                return new SignedIn(person, named, false);
            }, cancel);
        }
        catch (StoreException taken) when (taken.InnerException is PostgresException { SqlState: PostgresErrorCodes.UniqueViolation })
        {
            throw new FormatException($"There is a {named} already. Choose another name, or sign in if that is you.", taken);
        }
    }

    private const string Columns =
        "SELECT i.secret, h.name, i.role, i.whom, i.expires, i.used_by IS NOT NULL FROM invitation i LEFT JOIN home h ON h.key = i.home ";

    private static Invitation Read(NpgsqlDataReader row) => new(row.GetString(0), row.IsDBNull(1) ? null : row.GetString(1),
        row.GetString(2) == "keeper" ? null : RoleText.Of(row.GetString(2)), row.GetString(3), row.GetFieldValue<Instant>(4),
        row.GetBoolean(5));

    private async Task<string> ByKeeperAsync(int? home, string role, string whom, CancellationToken cancel)
    {
        var (secret, named) = (Secret.New(), Named(whom));
        try
        {
            await club.AsKeeperAsync(async session =>
            {
                // One that nobody used makes room for this one.
                await session.ExecuteAsync("DELETE FROM invitation WHERE home = $1 AND by_keeper AND used_by IS NULL", home);
                return await session.ExecuteAsync(
                    "INSERT INTO invitation (secret, home, role, whom, expires, by_keeper) VALUES ($1, $2, $3, $4, $5, true)",
                    Secret.Hash(secret), home, role, named, Now + Life);
            }, cancel);
        }
        catch (StoreException had) when (had.InnerException is PostgresException
            { SqlState: PostgresErrorCodes.UniqueViolation or PostgresErrorCodes.InsufficientPrivilege })
        {
            throw new FormatException("This home has its people already: its owner lets others in.", had);
        }

        return secret;
    }

    private async Task<(int? Home, Invitation Link)> GoodAsync(HomeSession session, string hash)
    {
        var found = await session.RowsAsync(Columns + "WHERE i.secret = $1 FOR UPDATE OF i", Read, hash);
        return found is [{ IsUsed: false } link] && link.Expires > Now
            ? (await session.OneAsync<int?>("SELECT home FROM invitation WHERE secret = $1", hash), link)
            : throw new FormatException("This link no longer works: it was used, taken back, or is too old. Ask for a new one.");
    }

    private async Task<Invitation> EnterAsync(HomeSession session, string hash, int person)
    {
        var (home, link) = await GoodAsync(session, hash);
        if (link.Role is { } role && home is { } at)
        {
            var had = await session.OneAsync<string>("SELECT role FROM membership WHERE home = $1 AND person = $2", at, person);
            if (had is not null && RoleText.Of(had) >= role)
            {
                throw new FormatException($"You are {had} of {link.Home} already. The link still works for somebody else.");
            }

            await session.ExecuteAsync(
                """
                INSERT INTO membership (home, person, role) VALUES ($1, $2, $3)
                ON CONFLICT (home, person) DO UPDATE SET role = excluded.role
                """, at, person, role.Word());
        }
        else
        {
            await session.ExecuteAsync("INSERT INTO keeper (person) VALUES ($1) ON CONFLICT DO NOTHING", person);
        }

        await session.ExecuteAsync("UPDATE invitation SET used_by = $2 WHERE secret = $1", hash, person);
        return link;
    }

    private static string Named(string name) => name.Trim() is { Length: > 0 } named && Bounds.PersonName.WhyNot(named) is null
        ? named
        : throw new FormatException($"Write a name of 1 to {Bounds.PersonName.LengthMax} characters.");
}
