using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>The bounds of a decoder.</summary>
public sealed record DecoderOptions
{
    /// <summary>A larger payload is refused unread, bytes. 64 KiB by default.</summary>
    public int PayloadLengthMax { get; init; } = 64 * 1024;

    /// <summary>More topics than this are still decoded, but looked up again each time.</summary>
    public int TopicsMax { get; init; } = 10_000;

    /// <summary>More probes that nobody has set up than this are refused as unknown.</summary>
    public int ProbesMax { get; init; } = 1_000;

    /// <summary>Which probes were set up: they are outside <see cref="ProbesMax"/>. Asked for each message of a probe not heard of yet;
    /// null for none.</summary>
    public Func<ProbeId, bool>? IsSetUp { get; init; }

    /// <summary>The last temperature of a probe from before this decoder began, by which its unit is recognised; asked once for each probe.
    /// Null knows none.</summary>
    public Func<ProbeId, TemperatureSample?>? LastTemperature { get; init; }

    /// <summary>How far a payload's own time is trusted.</summary>
    public TimeLimits Time { get; init; } = TimeLimits.Default;

    /// <summary>Whether the time of arrival is in doubt, because this machine's clock was never set; null for never.</summary>
    public Func<bool>? DoubtsArrival { get; init; }

    /// <summary>Which probes that nobody has set up are taken in; null takes in all.</summary>
    public Func<ProbeId, bool>? AcceptsProbe { get; init; }

    /// <summary>
    /// The unit in which somebody has seen a probe send its temperature, looking at it: it beats what its payload form declares.
    /// Null where nobody said. Asked for each message, so it must be quick.
    /// </summary>
    public Func<ProbeId, DeclaredUnit?>? SeenUnit { get; init; }
}
