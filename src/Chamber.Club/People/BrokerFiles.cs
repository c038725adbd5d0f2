using System.Text;
using Chamber.Club.Store;
using Chamber.Mqtt.Forwarding;

namespace Chamber.Club.People;

/// <summary>Mosquitto's password file and access list, made whole from the database: whoever does not stand in them is not let
/// in.</summary>
/// <param name="Passwords">A line for each account.</param>
/// <param name="Access">What each may publish and read.</param>
internal sealed record BrokerFiles(string Passwords, string Access)
{
    private const string Head = "# Written by chamber-club sensor files, whole each time: what is changed here is lost.\n";

    /// <param name="club">The club.</param>
    /// <param name="intake">The account by which the intake receives, and its password; null for a broker whose files hold only
    /// sensors.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<BrokerFiles> OfAsync(ClubDatabase club, (string User, string Password)? intake, CancellationToken cancel)
    {
        var sensors = await club.AsKeeperAsync(session => session.RowsAsync(
            "SELECT h.name, s.name, s.password, s.bridge FROM sensor s JOIN home h ON h.key = s.home ORDER BY h.name, s.name",
            row => (Home: row.GetString(0), Name: row.GetString(1), Password: row.GetString(2), IsBridge: row.GetBoolean(3))), cancel);
        var (passwords, access) = (new StringBuilder(Head), new StringBuilder(Head));
        if (intake is var (user, password))
        {
            passwords.Append($"{user}:{BrokerPassword.Of(password)}\n");
            access.Append($"user {user}\ntopic read {ClubTopics.Branch}#\ntopic write {ClubTopics.Confirmed("#")}\n");
        }

        foreach (var sensor in sensors)
        {
            passwords.Append($"{User(sensor.Home, sensor.Name)}:{sensor.Password}\n");
            access.Append($"user {User(sensor.Home, sensor.Name)}\n").Append(Rights(sensor.Home, sensor.Name, sensor.IsBridge));
        }

        return new(passwords.ToString(), access.ToString());
    }

    /// <summary>A sensor's user name at the broker.</summary>
    public static string User(string home, string sensor) => $"{home}/{sensor}";

    /// <summary>Where it publishes.</summary>
    public static string Topic(string home, string sensor, bool isBridge) =>
        isBridge ? $"{ClubTopics.Branch}{home}/#" : $"{ClubTopics.Branch}{home}/chamber/{sensor}/reading";

    // A Chamber at home that sends its readings is told which of them the club has.
    private static string Rights(string home, string sensor, bool isBridge) => isBridge
        ? $"topic write {ClubTopics.Branch}{home}/#\ntopic read {ClubTopics.Confirmed(home)}\n"
        : $"topic write {ClubTopics.Branch}{home}/chamber/{sensor}/#\n";
}
