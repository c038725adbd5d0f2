namespace Chamber.Mqtt.Connection;

/// <summary>The version of MQTT to speak.</summary>
public enum MqttVersion
{
    /// <summary>MQTT 5.0 (OASIS 2019).</summary>
    V5,

    /// <summary>MQTT 3.1.1 (OASIS 2014), for older brokers.</summary>
    V311,
}

/// <summary>Where a broker is and how to join it.</summary>
public sealed record BrokerAddress
{
    /// <summary>Its name or address.</summary>
    public string Host { get; init; } = "127.0.0.1";

    /// <summary>Its port: 1883, or 8883 with TLS.</summary>
    public int Port { get; init; } = 1883;

    /// <summary>Whether the connection is encrypted.</summary>
    public bool Tls { get; init; }

    /// <summary>A PEM file with the authority that signed the broker's certificate; without it the system's authorities count.</summary>
    public string? AuthorityFile { get; init; }

    /// <summary>A PEM file with Chamber's own certificate, for brokers that know their clients by it.</summary>
    public string? CertificateFile { get; init; }

    /// <summary>A PEM file with the key of that certificate.</summary>
    public string? KeyFile { get; init; }

    /// <summary>The user.</summary>
    public string? User { get; init; }

    /// <summary>The user's password; better in <see cref="PasswordFile"/>.</summary>
    public string? Password { get; init; }

    /// <summary>A file that holds nothing but the password.</summary>
    public string? PasswordFile { get; init; }

    /// <summary>The fixed name under which the broker keeps messages while Chamber is away. Two clients must not share it.</summary>
    public string ClientId { get; init; } = "chamber";

    /// <summary>The version of MQTT.</summary>
    public MqttVersion Version { get; init; } = MqttVersion.V5;

    /// <summary>How many messages the broker may send before the first of them is acknowledged (MQTT 5).</summary>
    public ushort ReceiveMaximum { get; init; } = 8192;

    /// <summary>For how long the broker keeps messages while Chamber is away (MQTT 5), hours. A week by default.</summary>
    public int SessionHours { get; init; } = 7 * 24;

    /// <summary>A connection that takes longer is given up, seconds.</summary>
    public int TimeoutSeconds { get; init; } = 15;
}
