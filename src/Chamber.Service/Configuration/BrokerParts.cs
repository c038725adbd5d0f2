using System.Net;
using Chamber.Mqtt.Broker;
using Chamber.Mqtt.Connection;

namespace Chamber.Service.Configuration;

/// <summary>Turns settings into what the broker and the connection take.</summary>
internal static class BrokerParts
{
    private const int PlainPort = 1883;
    private const int TlsPort = 8883;

    /// <param name="settings">The settings of the broker.</param>
    /// <param name="data">Where its files are.</param>
    /// <param name="payloadMax">The largest payload of a reading, bytes: what carries it may be longer by its topic and properties.</param>
    public static BrokerOptions Own(BrokerSettings settings, DataDirectory data, int payloadMax = 0) => new()
    {
        ConnectLengthMax = (int)Core.Bounds.BrokerConnect.High,
        PacketLengthMax = Math.Max((int)Core.Bounds.BrokerPacket.High, payloadMax + (int)Core.Bounds.BrokerConnect.High),
        ConnectionsOfAddressMax = (int)Core.Bounds.ConnectionsOfAddress.High,
        ClientsMax = (int)Core.Bounds.BrokerClients.High,
        RetainedMax = (int)Core.Bounds.RetainedMessages.High,
        RetainedBytesMax = (long)Core.Bounds.RetainedBytes.High,
        SubscriptionsMax = (int)Core.Bounds.BrokerSubscriptions.High,
        SessionsMax = (int)Core.Bounds.BrokerSessions.High,
        SessionKept = Core.Bounds.SessionKept.High.ToTimeSpan(),
        WaitingBytesMax = (long)Core.Bounds.BrokerWaiting.High,
        ReaderBytesMax = (long)Core.Bounds.ReaderWaiting.High,
        ReadersBytesMax = (long)Core.Bounds.ReadersWaiting.High,
        TopicLengthMax = Core.Bounds.BrokerTopic.LengthMax,
        PasswordTriesMax = (int)Core.Bounds.PasswordTries.High,
        TraceUnmapped = settings.TraceUnmapped,
        Listeners = [.. settings.Listen.Select(listener => new ListenerOptions
        {
            Address = IPAddress.Parse(listener.Address),
            Port = listener.Port ?? (listener.Certificate is null && !listener.Tls ? PlainPort : TlsPort),
            CertificateFile = Resolve(listener.Certificate, data) ?? (listener.Tls ? data.BrokerCertificate : null),
            KeyFile = Resolve(listener.Key, data) ?? (listener.Tls ? data.BrokerKey : null),
        })],
    };

    /// <summary>Where sensors of the home network come in; null for nowhere.</summary>
    public static ListenerOptions? OfHome(HomeNetworkSettings? network) =>
        network is null ? null : new() { Address = IPAddress.Any, Port = network.SensorPort };

    public static BrokerAddress Joined(BrokerSettings settings, DataDirectory data) =>
        At(settings.Host!, settings.Port, settings.Tls, data) with
        {
            User = settings.User,
            Password = settings.Password,
            PasswordFile = Resolve(settings.PasswordFile, data),
            ClientId = settings.ClientId,
            Version = settings.Version,
        };

    /// <summary>The broker of a club.</summary>
    public static BrokerAddress OfClub(ClubSettings club, DataDirectory data) => At(club.Host, club.Port, club.Tls, data) with
    {
        User = club.User,
        Password = club.Password,
        PasswordFile = Resolve(club.PasswordFile, data),
        ClientId = $"{club.Home}-home",
    };

    private static BrokerAddress At(string host, int? port, TlsSettings? tls, DataDirectory data) => new()
    {
        Host = host,
        Port = port ?? (tls is null ? PlainPort : TlsPort),
        Tls = tls is not null,
        AuthorityFile = Resolve(tls?.Authority, data),
        CertificateFile = Resolve(tls?.Certificate, data),
        KeyFile = Resolve(tls?.Key, data),
    };

    private static string? Resolve(string? file, DataDirectory data) => file is null ? null : data.Resolve(file);
}
