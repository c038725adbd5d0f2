using Chamber.Service.Output;
using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>What chamber.json may hold. Everything has a default, so that an empty or missing file is a good one.</summary>
internal sealed record Settings
{
    public HomeSettings Home { get; init; } = new();

    /// <summary>How temperatures are shown.</summary>
    public TemperatureScale Units { get; init; } = TemperatureScale.Celsius;

    public BrokerSettings Broker { get; init; } = new();

    /// <summary>When nothing but danger may make a noise; null when there are none.</summary>
    public QuietHours? QuietHours { get; init; }

    public RetentionSettings Retention { get; init; } = new();

    public LimitSettings Limits { get; init; } = new();
}

/// <summary>The home.</summary>
internal sealed record HomeSettings
{
    /// <summary>A tz database name; without one that of the machine.</summary>
    public DateTimeZone? Zone { get; init; }
}

/// <summary>Where readings come from: the broker inside Chamber, or one that is there already.</summary>
internal sealed record BrokerSettings
{
    /// <summary>Run the broker inside Chamber.</summary>
    public bool Own { get; init; } = true;

    /// <summary>Where the own broker listens. Any address but the loopback one demands users.</summary>
    public IReadOnlyList<ListenerSettings> Listen { get; init; } = [new()];

    /// <summary>The broker to join when <see cref="Own"/> is false.</summary>
    public string? Host { get; init; }

    /// <summary>Its port; 1883, or 8883 with TLS, unless told.</summary>
    public int? Port { get; init; }

    public string? User { get; init; }

    /// <summary>Never shown or logged. Better in <see cref="PasswordFile"/> or in CHAMBER_BROKER__PASSWORD.</summary>
    public string? Password { get; init; }

    /// <summary>A file whose first line is the password; relative to the data directory.</summary>
    public string? PasswordFile { get; init; }

    /// <summary>Encrypted; null is plain.</summary>
    public TlsSettings? Tls { get; init; }

    /// <summary>MQTT 5 unless told.</summary>
    public MqttVersion Version { get; init; } = MqttVersion.Five;

    /// <summary>The name of the persistent session; two Chambers on one broker need two names.</summary>
    public string ClientId { get; init; } = "chamber";
}

/// <summary>Versions of MQTT.</summary>
internal enum MqttVersion
{
    Five,
    ThreeOneOne,
}

/// <summary>One address of the own broker.</summary>
internal sealed record ListenerSettings
{
    public string Address { get; init; } = "127.0.0.1";

    public int? Port { get; init; }

    /// <summary>PEM files; relative to the data directory. With both the listener speaks TLS.</summary>
    public string? Certificate { get; init; }

    public string? Key { get; init; }
}

/// <summary>TLS to the broker that is joined. File names are relative to the data directory.</summary>
internal sealed record TlsSettings
{
    /// <summary>A PEM file with the authority to trust; without one those of the machine.</summary>
    public string? Authority { get; init; }

    /// <summary>A PEM file with a client certificate.</summary>
    public string? Certificate { get; init; }

    /// <summary>The key of the client certificate.</summary>
    public string? Key { get; init; }
}

/// <summary>From and to, in the home's time; may run over midnight.</summary>
internal sealed record QuietHours
{
    public LocalTime From { get; init; } = new(22, 0);

    public LocalTime To { get; init; } = new(7, 0);
}

/// <summary>How long what is kept.</summary>
internal sealed record RetentionSettings
{
    /// <summary>Every reading; older ones are summed up.</summary>
    public Duration Minutes { get; init; } = Duration.FromDays(400);

    /// <summary>Closed alerts.</summary>
    public Duration Alerts { get; init; } = Duration.FromDays(800);
}

/// <summary>Bounds. What they refuse is counted.</summary>
internal sealed record LimitSettings
{
    /// <summary>Readings that wait for the writer; further messages are not acknowledged until there is room.</summary>
    public int QueuedReadings { get; init; } = 20_000;

    /// <summary>The largest payload that is looked at, bytes.</summary>
    public int PayloadBytes { get; init; } = 65_536;

    /// <summary>Probes that may speak; readings of further ones are refused.</summary>
    public int Probes { get; init; } = 500;

    /// <summary>How far ahead a payload's own time may lie.</summary>
    public Duration TimeAhead { get; init; } = Duration.FromMinutes(10);

    /// <summary>How far back a payload's own time may lie.</summary>
    public Duration TimeBehind { get; init; } = Duration.FromDays(31);
}
