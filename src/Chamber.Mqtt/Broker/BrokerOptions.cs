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
}

/// <summary>One address of the built-in broker.</summary>
public sealed record ListenerOptions
{
    /// <summary>The address to listen on. On any but loopback every client needs user and password.</summary>
    public IPAddress Address { get; init; } = IPAddress.Loopback;

    /// <summary>The port.</summary>
    public int Port { get; init; } = 1883;

    /// <summary>A PEM file with the broker's certificate: with it, this address speaks TLS.</summary>
    public string? CertificateFile { get; init; }

    /// <summary>A PEM file with the key of that certificate.</summary>
    public string? KeyFile { get; init; }

    /// <summary>Whether user and password are demanded.</summary>
    public bool DemandsPassword => !IPAddress.IsLoopback(Address);
}
