using System.Net;

namespace Chamber.Mqtt.Broker;

/// <summary>Where the built-in broker listens, and its bounds.</summary>
public sealed record BrokerOptions
{
    /// <summary>Where it listens; loopback alone by default.</summary>
    public IReadOnlyList<ListenerOptions> Listeners { get; init; } = [new()];

    /// <summary>Clients at one time, at most.</summary>
    public int ClientsMax { get; init; } = 1_000;

    /// <summary>Connections from one address at one time, at most.</summary>
    public int ConnectionsOfAddressMax { get; init; } = 200;

    /// <summary>The longest packet before a client is let in, bytes: client id, user, password and will.</summary>
    public int ConnectLengthMax { get; init; } = 8 * 1024;

    /// <summary>The longest packet of a client that was let in, bytes.</summary>
    public int PacketLengthMax { get; init; } = 256 * 1024;

    /// <summary>How long a client may take over the TLS handshake.</summary>
    public TimeSpan HandshakeMax { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Retained messages, at most.</summary>
    public int RetainedMax { get; init; } = 1_000;

    /// <summary>Bytes of retained messages, at most.</summary>
    public long RetainedBytesMax { get; init; } = 4 * 1024 * 1024;

    /// <summary>Subscriptions of one client, at most.</summary>
    public int SubscriptionsMax { get; init; } = 100;

    /// <summary>Sessions of clients that are here or may come back, at most.</summary>
    public int SessionsMax { get; init; } = 1_000;

    /// <summary>How long the session of a client that has gone is kept.</summary>
    public TimeSpan SessionKept { get; init; } = TimeSpan.FromDays(1);

    /// <summary>Bytes that wait for clients that have gone, at most, over all of them.</summary>
    public long WaitingBytesMax { get; init; } = 16 * 1024 * 1024;

    /// <summary>Bytes that wait for one client that is there and does not read, at most.</summary>
    public long ReaderBytesMax { get; init; } = 1024 * 1024;

    /// <summary>Bytes that wait for clients that are there and do not read, at most, over all of them.</summary>
    public long ReadersBytesMax { get; init; } = 64 * 1024 * 1024;

    /// <summary>The longest topic to which a client may publish, characters.</summary>
    public int TopicLengthMax { get; init; } = 1_000;

    /// <summary>Wrong passwords from one address within a minute, at most.</summary>
    public int PasswordTriesMax { get; init; } = 20;

    /// <summary>Whether each topic that no mapping knows leaves one trace among the refusals.</summary>
    public bool TraceUnmapped { get; init; } = true;
}

/// <summary>One address of the built-in broker.</summary>
public sealed record ListenerOptions
{
    /// <summary>The address to listen on. On any but loopback every client needs user and password.</summary>
    public IPAddress Address { get; init; } = IPAddress.Loopback;

    /// <summary>The port.</summary>
    public int Port { get; init; } = 1883;

    /// <summary>A PEM file with the broker's certificate: with it, this address speaks TLS. A file that is there no sooner than at the
    /// start will do.</summary>
    public string? CertificateFile { get; init; }

    /// <summary>A PEM file with the key of that certificate.</summary>
    public string? KeyFile { get; init; }

    /// <summary>Whether user and password are demanded.</summary>
    public bool DemandsPassword => !IPAddress.IsLoopback(Address);
}
