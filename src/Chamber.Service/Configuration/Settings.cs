using System.Text.Json.Serialization;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Alerts.Scripts;
using Chamber.Mqtt.Connection;
using Chamber.Mqtt.Decoding;
using NodaTime;

namespace Chamber.Service.Configuration;

/// <summary>What chamber.json may hold. Everything has a default, so that an empty or missing file is a good one.</summary>
internal sealed record Settings
{
    /// <summary>Where an editor finds the schema; Chamber does not read it.</summary>
    [JsonPropertyName("$schema")]
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Schema { get; set; }

    public HomeSettings Home { get; set; } = new();

    /// <summary>How temperatures are shown.</summary>
    public TemperatureScale Units { get; set; } = TemperatureScale.Celsius;

    public BrokerSettings Broker { get; set; } = new();

    public PageSettings Page { get; set; } = new();

    /// <summary>What phones and sensors of the home network may reach; null is nothing. The page opens and closes it.</summary>
    public HomeNetworkSettings? HomeNetwork { get; set; }

    /// <summary>A home-automation hub that the home is announced to by the MQTT discovery convention; null is none.</summary>
    public HubSettings? Hub { get; set; }

    /// <summary>Further topics that carry readings, besides <c>chamber/&lt;probe&gt;/reading</c>; the first that matches decides.</summary>
    public IReadOnlyList<TopicMapping> Mappings { get; set; } = [];

    /// <summary>Whether probes that nobody has set up are taken in when they speak.</summary>
    public bool NewProbes { get; set; } = true;

    /// <summary>When nothing but danger may make a noise; null when there are none.</summary>
    public QuietHoursSettings? QuietHours { get; set; }

    /// <summary>Who is notified, and how.</summary>
    public NoticeOptions Notices { get; set; } = new();

    public BackupSettings Backups { get; set; } = new();

    /// <summary>Limits of alerts other than the usual, by their names in docs/alerts.md: <c>"too hot hold": "20 min"</c>.</summary>
    public IReadOnlyDictionary<string, string> AlertLimits { get; set; } = new Dictionary<string, string>();

    /// <summary>The chance of one more seedling under which to stop waiting for a batch; less waits longer. 0.001 to 0.5.</summary>
    public double StopWaitingBelow { get; set; } = Core.Forecasts.Forecaster.StopBelow;

    public RetentionSettings Retention { get; set; } = new();

    /// <summary>A server that gets a copy of the history; null is none.</summary>
    public MirrorSettings? Mirror { get; set; }

    /// <summary>A club that gets the readings of this home; null is none.</summary>
    public ClubSettings? Club { get; set; }

    /// <summary>Where the service's measurements of itself go; null is nowhere.</summary>
    public TelemetrySettings? Telemetry { get; set; }

    public LimitSettings Limits { get; set; } = new();

    public PriceSettings Prices { get; set; } = new();

    /// <summary>The time zone in force.</summary>
    [JsonIgnore]
    public DateTimeZone Zone => Home.Zone ?? MachineZone.Find();
}

/// <summary>What settings mean to the watch.</summary>
internal static class WatchSettings
{
    /// <summary>The limits of alerts in force.</summary>
    public static WatchLimits WatchLimits(this Settings settings) =>
        settings.AlertLimits.Aggregate(new WatchLimits(), (limits, own) => LimitText.Set(limits, own.Key, own.Value));
}

/// <summary>The home.</summary>
internal sealed record HomeSettings
{
    /// <summary>A tz database name; without one that of the machine.</summary>
    public DateTimeZone? Zone { get; set; }
}

/// <summary>Where readings come from: the broker inside Chamber, or one that is there already.</summary>
internal sealed record BrokerSettings
{
    /// <summary>Run the broker inside Chamber.</summary>
    public bool Own { get; set; } = true;

    /// <summary>Where the own broker listens. Any address but the loopback one demands users.</summary>
    public IReadOnlyList<ListenerSettings> Listen { get; set; } = [new()];

    /// <summary>Tell the home network where the own broker is (DNS-SD), where it listens beyond this machine.</summary>
    public bool Announce { get; set; }

    /// <summary>Each topic that no mapping knows leaves one trace in <c>refusals</c>; of a joined broker the topic alone.</summary>
    public bool TraceUnmapped { get; set; } = true;

    /// <summary>The broker to join when <see cref="Own"/> is false.</summary>
    public string? Host { get; set; }

    /// <summary>Its port; 1883, or 8883 with TLS by default.</summary>
    public int? Port { get; set; }

    public string? User { get; set; }

    /// <summary>Never shown or logged. Better in <see cref="PasswordFile"/> or in CHAMBER_BROKER__PASSWORD.</summary>
    public string? Password { get; set; }

    /// <summary>A file whose first line is the password; relative to the data directory.</summary>
    public string? PasswordFile { get; set; }

    /// <summary>Encrypted; null is plain.</summary>
    public TlsSettings? Tls { get; set; }

    /// <summary>MQTT 5 by default.</summary>
    public MqttVersion Version { get; set; } = MqttVersion.V5;

    /// <summary>The name of the persistent session; two Chambers on one broker need two names.</summary>
    public string ClientId { get; set; } = "chamber";
}

/// <summary>One address of the own broker.</summary>
internal sealed record ListenerSettings
{
    public string Address { get; set; } = "127.0.0.1";

    public int? Port { get; set; }

    /// <summary>Encrypted, with a certificate that Chamber makes for itself unless one is named.</summary>
    public bool Tls { get; set; }

    /// <summary>PEM files; relative to the data directory. With both the listener speaks TLS.</summary>
    public string? Certificate { get; set; }

    public string? Key { get; set; }
}

/// <summary>TLS to the broker that is joined. File names are relative to the data directory.</summary>
internal sealed record TlsSettings
{
    /// <summary>A PEM file with the authority to trust; without one those of the machine.</summary>
    public string? Authority { get; set; }

    /// <summary>A PEM file with a client certificate.</summary>
    public string? Certificate { get; set; }

    /// <summary>The key of the client certificate.</summary>
    public string? Key { get; set; }
}

/// <summary>The page in the browser.</summary>
internal sealed record PageSettings
{
    public bool On { get; set; } = true;

    /// <summary>On any address but the loopback one people sign in, and the connection is encrypted.</summary>
    public string Address { get; set; } = "127.0.0.1";

    public int Port { get; set; } = 8470;

    /// <summary>A reverse proxy on this machine stands in front: everybody signs in, whatever address they seem to come from.</summary>
    public bool BehindProxy { get; set; }

    /// <summary>PEM files; relative to the data directory. Without them a certificate is made for any address but the loopback
    /// one.</summary>
    public string? Certificate { get; set; }

    public string? Key { get; set; }
}

/// <summary>What phones and sensors of the home network reach, each by name and password.</summary>
internal sealed record HomeNetworkSettings
{
    /// <summary>Where phones reach the page, encrypted.</summary>
    public int PagePort { get; set; } = 8471;

    /// <summary>Where sensors reach the own broker.</summary>
    public int SensorPort { get; set; } = 1884;
}

/// <summary>How a home-automation hub is told what there is.</summary>
internal sealed record HubSettings
{
    /// <summary>The topic under which the hub listens for descriptions; 1 to 60 letters.</summary>
    public string Prefix { get; set; } = "homeassistant";
}

/// <summary>From and to, in the home's time; may run over midnight.</summary>
internal sealed record QuietHoursSettings
{
    public LocalTime From { get; set; } = new(22, 0);

    public LocalTime To { get; set; } = new(7, 0);
}

/// <summary>The backups that Chamber makes by itself.</summary>
internal sealed record BackupSettings
{
    public bool On { get; set; } = true;

    /// <summary>When, in the home's time.</summary>
    public LocalTime At { get; set; } = new(3, 30);

    /// <summary>How many of the newest days are kept.</summary>
    public int Daily { get; set; } = 7;

    /// <summary>How many weeks before those days keep one.</summary>
    public int Weekly { get; set; } = 4;

    /// <summary>Where to; relative to the data directory. Null is backups/ in it. A backup on another disk survives this one.</summary>
    public string? Folder { get; set; }
}

/// <summary>How long what is kept.</summary>
internal sealed record RetentionSettings
{
    /// <summary>Every reading; older ones are summed up.</summary>
    public Duration Minutes { get; set; } = Duration.FromDays(400);

    /// <summary>Closed alerts.</summary>
    public Duration Alerts { get; set; } = Duration.FromDays(800);
}

/// <summary>Bounds. What they refuse is counted.</summary>
internal sealed record LimitSettings
{
    /// <summary>Messages that wait to be stored; further ones wait at their sender.</summary>
    public int QueuedMessages { get; set; } = 16_384;

    /// <summary>The largest payload that is looked at, bytes.</summary>
    public int PayloadBytes { get; set; } = 65_536;

    /// <summary>Probes that may speak; readings of further ones are refused.</summary>
    public int Probes { get; set; } = 500;

    /// <summary>How far ahead a payload's own time may lie.</summary>
    public Duration TimeAhead { get; set; } = Duration.FromMinutes(10);

    /// <summary>How far back a payload's own time may lie.</summary>
    public Duration TimeBehind { get; set; } = Duration.FromDays(31);
}

/// <summary>What things cost, in the home's own money; for the sums of a season.</summary>
internal sealed record PriceSettings
{
    /// <summary>A kWh.</summary>
    public decimal KilowattHour { get; set; }

    /// <summary>A litre of mix.</summary>
    public decimal MixLitre { get; set; }

    /// <summary>Litres of mix in a container.</summary>
    public double ContainerLitres { get; set; } = 0.5;

    /// <summary>A bought plant, to compare with.</summary>
    public decimal? BoughtPlant { get; set; }

    /// <summary>What a mat or lamp on a spot draws, W.</summary>
    public IReadOnlyDictionary<string, double> Watts { get; set; } = new Dictionary<string, double>();
}
