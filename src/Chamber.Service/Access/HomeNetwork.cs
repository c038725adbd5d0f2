using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text.Json;
using Chamber.Mqtt.Broker;
using Chamber.Service.Configuration;

namespace Chamber.Service.Access;

/// <summary>
/// Lets phones and sensors of the home network in, and shuts them out again, while the service runs. Phones reach the page over TLS and
/// sign in; each sensor reaches the own broker by its own user, whose password is made here and kept only as its hash.
/// </summary>
internal sealed class HomeNetwork(SettingsInForce settings, Settings start, DataDirectory data, Gatekeeper gate)
{
    private const string Key = "homeNetwork";
    private const int PasswordLength = 12;

    // Without look-alikes and without what a keypad hides: it is typed into a sensor's own page.
    private const string PasswordAlphabet = "23456789abcdefghjkmnpqrstuvwxyz";

    public HomeNetworkAnswer Read() => new(
        settings.HomeNetwork is not null,
        settings.HomeNetwork is { } network ? [.. HomeAddresses.All().Select(address => $"https://{address}:{network.PagePort}")] : [],
        settings.HomeNetwork is { } sensors && start.Broker.Own
            ? [.. HomeAddresses.All().Select(address => $"{address}:{sensors.SensorPort}")] : [],
        [.. Users.Rights().OrderBy(user => user.Key, StringComparer.Ordinal)
            .Select(user => new SensorUserAnswer(user.Key, user.Value.Writes, user.Value.Reads))]);

    /// <summary>Opens the page and the broker to the home network.</summary>
    /// <param name="asked">Who signs in.</param>
    /// <param name="at">Where; null for the usual ports.</param>
    /// <exception cref="BadInputException">Nobody could sign in, or a port is taken; nothing was opened.</exception>
    public HomeNetworkAnswer Open(HomeNetworkRequest asked, HomeNetworkSettings? at = null)
    {
        if (settings.HomeNetwork is not null)
        {
            throw BadInputException.Contradicts("The home network is let in already.");
        }

        var ports = at ?? new();
        RequireFree("pagePort", ports.PagePort);
        RequireFree("sensorPort", ports.SensorPort);
        var added = RequirePerson(asked);
        try
        {
            settings.Change((Key, JsonSerializer.SerializeToNode(ports, SettingsText.Options)));
        }
        catch (BadInputException) when (added is not null)
        {
            gate.Remove(added);
            throw;
        }

        return Read();
    }

    /// <summary>Makes the user of one sensor.</summary>
    /// <exception cref="BadInputException">Nothing is open, there is no own broker, the name or topic cannot be used, or there is such a
    /// user.</exception>
    public SensorLoginAnswer LetIn(SensorRequest asked)
    {
        if (settings.HomeNetwork is null || !start.Broker.Own)
        {
            throw BadInputException.Contradicts("No sensor is let in here, so none needs a password.");
        }

        var user = BadInputException.In("name", () => Core.Identifier.Require((asked.Name ?? "").Trim(), "sensor"));
        if (Users.Rights().ContainsKey(user))
        {
            throw BadInputException.Contradicts($"{user} is let in already: remove it first for a new password.", "name");
        }

        var topic = string.IsNullOrWhiteSpace(asked.Topic) ? null
            : BadInputException.In("topic", () => AccountRights.Require(asked.Topic.Trim()));
        var password = RandomNumberGenerator.GetString(PasswordAlphabet, PasswordLength);
        var rights = asked.ForMany ? OfBridge() : topic is null ? AccountRights.OfProbe(user) : new([topic], []);
        Users.Set(user, password, rights);
        return new(user, password, rights.Writes[0]);
    }

    /// <summary>Takes the access of one sensor back; its next message is refused.</summary>
    /// <exception cref="BadInputException">There is no such user.</exception>
    public void ShutOut(string user)
    {
        if (!Users.Remove(user))
        {
            throw BadInputException.NoSuch("user of the broker", user, [.. Users.Rights().Keys]);
        }
    }

    /// <summary>Shuts phones and sensors out; who was connected is cut off. People, users of sensors and their
    /// passwords stay.</summary>
    /// <exception cref="BadInputException">The settings cannot be written.</exception>
    public void Close()
    {
        if (settings.HomeNetwork is not null)
        {
            settings.Change((Key, null));
        }
    }

    // Speaks for many sensors, and for a hub: it writes any topic, and reads what Chamber says, not what other sensors do.
    private AccountRights OfBridge() => new(["#"], ["chamber/alerts/#", "chamber/service/#", $"{(settings.Hub ?? new()).Prefix}/#"]);

    private UserFile Users => new(data.BrokerUsers);

    private static void RequireFree(string field, int port)
    {
        BadInputException.In(field, () => Core.Bounds.Port.Require(port));
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            socket.Bind(new IPEndPoint(IPAddress.Any, port));
        }
        catch (SocketException)
        {
            throw BadInputException.In(field, $"Another program uses port {port} of this machine: choose another number.");
        }
    }

    // Without somebody who may sign in, the open page would help nobody.
    private string? RequirePerson(HomeNetworkRequest asked)
    {
        if (gate.HasPeople)
        {
            return null;
        }

        var entry = gate.Add(asked.Name ?? "", asked.Password ?? "");
        return entry.Name ?? throw BadInputException.In((asked.Name ?? "").Trim().Length == 0 ? "name" : "password", entry.Problem);
    }
}

/// <summary>Who signs in when the home network is let in.</summary>
/// <param name="Name">The first who may sign in; not needed when somebody may already.</param>
/// <param name="Password">Theirs.</param>
internal sealed record HomeNetworkRequest(string? Name = null, string? Password = null);

/// <summary>What the home network reaches.</summary>
/// <param name="Open">Whether it is let in.</param>
/// <param name="Page">Addresses of the page, the likeliest first.</param>
/// <param name="Sensors">Addresses of the broker; empty where another broker is joined.</param>
/// <param name="Users">Who may use the broker from other machines.</param>
internal sealed record HomeNetworkAnswer(bool Open, IReadOnlyList<string> Page, IReadOnlyList<string> Sensors,
    IReadOnlyList<SensorUserAnswer> Users);

/// <summary>A user of the broker.</summary>
/// <param name="Name">The name.</param>
/// <param name="Writes">The topics that it may write.</param>
/// <param name="Reads">The topics that it may read.</param>
internal sealed record SensorUserAnswer(string Name, IReadOnlyList<string> Writes, IReadOnlyList<string> Reads);

/// <summary>Which sensor is let in.</summary>
/// <param name="Name">Its name, which is also that of its probe and its user.</param>
/// <param name="Topic">The topic that it writes, where it cannot be set: a topic filter; otherwise chamber/NAME/#.</param>
/// <param name="ForMany">Whether it is a bridge or hub, which speaks for many sensors and hears what Chamber says.</param>
internal sealed record SensorRequest(string? Name = null, string? Topic = null, bool ForMany = false);

/// <summary>What a sensor shows to the broker.</summary>
/// <param name="User">The user.</param>
/// <param name="Password">Its password, shown only now.</param>
/// <param name="Writes">The topics that it may write.</param>
internal sealed record SensorLoginAnswer(string User, string Password, string Writes);
