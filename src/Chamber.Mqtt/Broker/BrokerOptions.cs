using System.Net;

namespace Chamber.Mqtt.Broker;

/// <summary>Where the built-in broker listens, and its bounds.</summary>
public sealed record BrokerOptions
{
    /// <summary>Where it listens; loopback alone unless told.</summary>
    public IReadOnlyList<ListenerOptions> Listeners { get; init; } = [new()];

    /// <summary>Clients at one time, at most.</summary>
    public int ClientsMax { get; init; } = 1_000;

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
