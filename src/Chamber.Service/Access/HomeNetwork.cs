using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text.Json;
using Chamber.Mqtt.Broker;
using Chamber.Service.Configuration;

namespace Chamber.Service.Access;

/// <summary>
/// Lets phones and sensors of the home network in, and shuts them out again, while the service runs. Phones reach the page over TLS and
/// sign in; sensors reach the own broker by a user whose password is made here and kept only as its hash.
/// </summary>
internal sealed class HomeNetwork(SettingsInForce settings, Settings start, DataDirectory data, Gatekeeper gate)
{
    /// <summary>The user by which sensors reach the broker.</summary>
    public const string SensorUser = "sensors";

    private const string Key = "homeNetwork";
    private const int PasswordLength = 12;

    // Without look-alikes and without what a keypad hides: it is typed into a sensor's own page.
    private const string PasswordAlphabet = "23456789abcdefghjkmnpqrstuvwxyz";

    public HomeNetworkAnswer Read() => new(
        settings.HomeNetwork is not null,
        settings.HomeNetwork is { } network ? [.. HomeAddresses.All().Select(address => $"https://{address}:{network.PagePort}")] : [],
        settings.HomeNetwork is { } sensors && start.Broker.Own
            ? [.. HomeAddresses.All().Select(address => $"{address}:{sensors.SensorPort}")] : []);

    /// <summary>Opens the page and the broker to the home network.</summary>
    /// <param name="asked">Who signs in.</param>
    /// <param name="at">Where; null for the usual ports.</param>
    /// <exception cref="BadInputException">Nobody could sign in, or a port is taken; nothing was opened.</exception>
    public OpenedAnswer Open(HomeNetworkRequest asked, HomeNetworkSettings? at = null)
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

        return new(Read(), start.Broker.Own ? NewPassword() : null);
    }

    /// <summary>Makes a password for sensors; the one before is void.</summary>
    /// <exception cref="BadInputException">Nothing is open, or there is no own broker.</exception>
    public SensorLoginAnswer NewPassword()
    {
        if (settings.HomeNetwork is null || !start.Broker.Own)
        {
            throw BadInputException.Contradicts("No sensor is let in here, so none needs a password.");
        }

        var password = RandomNumberGenerator.GetString(PasswordAlphabet, PasswordLength);

        // All sensors and a hub share it: it writes any topic of a sensor, and reads what Chamber says, not what other sensors do.
        Users.Set(SensorUser, password,
            new(["#"], ["chamber/alerts/#", "chamber/service/#", $"{(settings.Hub ?? new()).Prefix}/#"]));
        return new(SensorUser, password);
    }

    /// <summary>Shuts phones and sensors out; who was connected is cut off. People and their passwords stay.</summary>
    /// <exception cref="BadInputException">The settings cannot be written.</exception>
    public void Close()
    {
        if (settings.HomeNetwork is not null)
        {
            settings.Change((Key, null));
        }

        Users.Remove(SensorUser);
    }

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
internal sealed record HomeNetworkAnswer(bool Open, IReadOnlyList<string> Page, IReadOnlyList<string> Sensors);

/// <summary>What was opened.</summary>
/// <param name="Network">Where it is reached.</param>
/// <param name="Login">What sensors show; null where another broker is joined. In this answer only.</param>
internal sealed record OpenedAnswer(HomeNetworkAnswer Network, SensorLoginAnswer? Login);

/// <summary>What a sensor shows to the broker.</summary>
/// <param name="User">The user.</param>
/// <param name="Password">Its password, shown only now.</param>
internal sealed record SensorLoginAnswer(string User, string Password);
