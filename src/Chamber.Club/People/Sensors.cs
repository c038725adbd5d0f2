using System.Security.Cryptography;
using Chamber.Club.Store;
using Chamber.Core;

namespace Chamber.Club.People;

/// <summary>What a sensor shows the broker.</summary>
/// <param name="Name">The probe that it is, or the bridge's name.</param>
/// <param name="IsBridge">Whether it may write every topic of its home.</param>
public sealed record Sensor(string Name, bool IsBridge);

/// <summary>A sensor that was just let in.</summary>
/// <param name="User">Its user name at the broker.</param>
/// <param name="Password">Its password; known only now.</param>
/// <param name="Topic">Where it publishes.</param>
public sealed record LetIn(string User, string Password, string Topic);

/// <summary>The sensors of a home and their accounts at the club's broker.</summary>
internal sealed class Sensors(ClubDatabase club)
{
    // Without look-alikes, because it may be typed into a sensor; 24 of them are 118 bits, so that the broker need not reckon long.
    private const string Alphabet = "23456789abcdefghjkmnpqrstuvwxyz";
    private const int PasswordLength = 24;

    public async Task<IReadOnlyList<Sensor>> OfAsync(int home, CancellationToken cancel) =>
        await club.AtDoorAsync(new(Home: home), session => session.RowsAsync(
            "SELECT name, bridge FROM sensor WHERE home = $1 ORDER BY name", row => new Sensor(row.GetString(0), row.GetBoolean(1)), home),
            cancel);

    /// <summary>Lets a sensor in, or gives the one of this name another password.</summary>
    /// <param name="home">Whose it is.</param>
    /// <param name="homeName">What that home is called.</param>
    /// <param name="name">The name of its probe.</param>
    /// <param name="isBridge">Whether it may write every topic of the home, as a broker or a Chamber at home does.</param>
    /// <param name="cancel">Ends the wait.</param>
    /// <exception cref="FormatException">It is no name of a probe.</exception>
    public async Task<LetIn> AddAsync(int home, string homeName, string name, bool isBridge, CancellationToken cancel)
    {
        Identifier.Require(name, "probe");
        var password = RandomNumberGenerator.GetString(Alphabet, PasswordLength);
        await club.AtDoorAsync(new(Home: home), session => session.ExecuteAsync(
            """
            INSERT INTO sensor (home, name, password, bridge) VALUES ($1, $2, $3, $4)
            ON CONFLICT (home, name) DO UPDATE SET password = excluded.password, bridge = excluded.bridge
            """, home, name, BrokerPassword.Of(password), isBridge), cancel);
        return new(BrokerFiles.User(homeName, name), password, BrokerFiles.Topic(homeName, name, isBridge));
    }

    /// <summary>Takes the access of a sensor back.</summary>
    /// <returns>Whether there was one of this name.</returns>
    public async Task<bool> RemoveAsync(int home, string name, CancellationToken cancel) => await club.AtDoorAsync(new(Home: home),
        session => session.ExecuteAsync("DELETE FROM sensor WHERE home = $1 AND name = $2", home, name), cancel) > 0;
}
