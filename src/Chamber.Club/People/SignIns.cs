using System.Security.Cryptography;
using Chamber.Club.Store;
using Chamber.Core;
using Chamber.Service.Access;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace Chamber.Club.People;

/// <summary>Somebody who has signed in.</summary>
/// <param name="Key">Their number.</param>
/// <param name="Name">Their name.</param>
/// <param name="IsKeeper">Whether they look after the club.</param>
internal sealed record SignedIn(int Key, string Name, bool IsKeeper);

/// <summary>Signing in and out, by name and password. A browser that is signed in stands in the database until it signs out, or the
/// password changes.</summary>
internal sealed class SignIns(ClubDatabase club, TimeProvider time)
{
    private readonly LastAnswers<string, SignedIn?> known = new();

    private static readonly PasswordHasher<string> Hasher = new();

    // What a wrong name is compared with, so that it takes as long as a wrong password.
    private static readonly string Nobody = Hasher.HashPassword("", RandomNumberGenerator.GetHexString(32));

    /// <summary>Who has this name and password; null when nobody has.</summary>
    public async Task<SignedIn?> FindAsync(string name, string password, CancellationToken cancel)
    {
        var found = await club.AtDoorAsync(new(Name: name.Trim()), session => session.RowsAsync(
            "SELECT key, name, password FROM person WHERE lower(name) = lower($1)",
            row => (Who: new SignedIn(row.GetInt32(0), row.GetString(1), false), Password: row.GetString(2)), name.Trim()), cancel);
        var known = found is [var one] ? one : default;
        var result = Hasher.VerifyHashedPassword(name, known.Password ?? Nobody, password);
        return result == PasswordVerificationResult.Failed ? null : known.Who;
    }

    /// <summary>Signs somebody in.</summary>
    /// <returns>The secret for the cookie.</returns>
    public async Task<string> BeginAsync(SignedIn who, CancellationToken cancel)
    {
        var secret = Secret.New();
        var now = Instant.FromDateTimeOffset(time.GetUtcNow());
        await club.AtDoorAsync(new(Person: who.Key), async session =>
        {
            // A cookie that was not used for so long is dead by itself.
            await session.ExecuteAsync("DELETE FROM sign_in WHERE person = $1 AND since < $2", who.Key,
                now - Duration.FromTimeSpan(AccessModule.CookieLife) * 12);
            return await session.ExecuteAsync("INSERT INTO sign_in (secret, person, since) VALUES ($1, $2, $3)", Secret.Hash(secret),
                who.Key, now);
        }, cancel);
        return secret;
    }

    /// <summary>Whose cookie holds a secret; null when they have signed out. While the database is away whoever was in stays in.</summary>
    public async Task<SignedIn?> OfAsync(string secret, CancellationToken cancel)
    {
        var hash = Secret.Hash(secret);
        return await known.AskAsync(hash, () => club.AtDoorAsync(new(Secret: hash), async session =>
        {
            if (await session.RowsAsync(
                "SELECT p.key, p.name FROM sign_in s JOIN person p ON p.key = s.person WHERE s.secret = $1",
                row => new SignedIn(row.GetInt32(0), row.GetString(1), false), hash) is not [var who])
            {
                return null;
            }

            await session.NameAsync(who.Key);
            return who with { IsKeeper = await session.OneAsync<bool>("SELECT true FROM keeper WHERE person = $1", who.Key) };
        }, cancel));
    }

    public Task EndAsync(string secret, CancellationToken cancel) => club.AtDoorAsync(new(Secret: Secret.Hash(secret)),
        session => session.ExecuteAsync("DELETE FROM sign_in WHERE secret = $1", Secret.Hash(secret)), cancel);

    /// <summary>Gives somebody a new password, which ends every sign-in under the old one.</summary>
    /// <exception cref="FormatException">It is too short or too long.</exception>
    public Task ChangePasswordAsync(int person, string password, CancellationToken cancel)
    {
        var hashed = Hashed("", password);
        return club.AtDoorAsync(new(Person: person), async session =>
        {
            await session.ExecuteAsync("UPDATE person SET password = $2 WHERE key = $1", person, hashed);
            return await session.ExecuteAsync("DELETE FROM sign_in WHERE person = $1", person);
        }, cancel);
    }

    /// <summary>A password as it is kept.</summary>
    /// <exception cref="FormatException">It is too short or too long.</exception>
    public static string Hashed(string name, string password) =>
        password.Length < Gatekeeper.PasswordLengthMin
            ? throw new FormatException(
                $"Choose a password of at least {Gatekeeper.PasswordLengthMin} characters; four short words do well.")
        : Bounds.Password.WhyNot(password) is not null
            ? throw new FormatException($"A password has at most {Bounds.Password.LengthMax} characters.")
        : Hasher.HashPassword(name, password);
}
