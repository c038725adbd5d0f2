using Chamber.Club.Store;
using Chamber.Core;

namespace Chamber.Club.People;

/// <summary>A program that may use the API of a home.</summary>
/// <param name="Name">What it is for, in its owner's words.</param>
/// <param name="Writes">Whether it may change what a member may change.</param>
public sealed record LetInProgram(string Name, bool Writes);

/// <summary>The programs of a home, each by a token that it shows with every request.</summary>
internal sealed class Programs(ClubDatabase club)
{
    private const string Mark = "chamber_";

    public async Task<IReadOnlyList<LetInProgram>> OfAsync(int home, CancellationToken cancel) =>
        await club.AtDoorAsync(new(Home: home), session => session.RowsAsync(
            "SELECT name, writes FROM program WHERE home = $1 ORDER BY name", row => new LetInProgram(row.GetString(0), row.GetBoolean(1)),
            home), cancel);

    /// <summary>Lets a program in, or gives the one of this name another token.</summary>
    /// <returns>The token, which is known only now.</returns>
    /// <exception cref="FormatException">It has no name.</exception>
    public async Task<string> AddAsync(int home, string name, bool writes, CancellationToken cancel)
    {
        if (name.Length == 0 || Bounds.PersonName.WhyNot(name) is not null)
        {
            throw new FormatException($"Say what it is for, in 1 to {Bounds.PersonName.LengthMax} characters.");
        }

        var token = Mark + Secret.New();
        await club.AtDoorAsync(new(Home: home), session => session.ExecuteAsync(
            """
            INSERT INTO program (home, secret, name, writes) VALUES ($1, $2, $3, $4)
            ON CONFLICT (home, name) DO UPDATE SET secret = excluded.secret, writes = excluded.writes
            """, home, Secret.Hash(token), name, writes), cancel);
        return token;
    }

    /// <summary>Takes the token of a program back: it is out at its next request.</summary>
    public Task<int> RemoveAsync(int home, string name, CancellationToken cancel) => club.AtDoorAsync(new(Home: home),
        session => session.ExecuteAsync("DELETE FROM program WHERE home = $1 AND name = $2", home, name), cancel);

    /// <summary>Whose token it is and which home it may use; null when nobody has it.</summary>
    public async Task<(OwnHome Home, LetInProgram Program)?> FindAsync(string token, CancellationToken cancel)
    {
        var hash = Secret.Hash(token);
        var found = await club.AtDoorAsync(new(Secret: hash), session => session.RowsAsync(
            "SELECT h.key, h.name, p.name, p.writes FROM program p JOIN home h ON h.key = p.home WHERE p.secret = $1",
            row => (new OwnHome(row.GetInt32(0), row.GetString(1), row.GetBoolean(3) ? Role.Member : Role.Guest),
                new LetInProgram(row.GetString(2), row.GetBoolean(3))), hash), cancel);
        return found is [var one] ? one : null;
    }
}
