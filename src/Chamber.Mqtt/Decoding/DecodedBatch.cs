using System.Text;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>What came out of some messages. Reused from batch to batch: whoever takes it in copies what it keeps.</summary>
public sealed class DecodedBatch
{
    /// <summary>One message adds at most this many refusals; the rest are only counted.</summary>
    public const int RefusalsPerMessageMax = 32;

    private readonly List<Reading> readings = [];
    private readonly List<Reading> lastKnown = [];
    private readonly List<Refusal> refusals = [];

    /// <summary>What can be stored and counted.</summary>
    public IReadOnlyList<Reading> Readings => readings;

    /// <summary>From retained messages without a time of their own: to be shown as last known, never stored or counted.</summary>
    public IReadOnlyList<Reading> LastKnown => lastKnown;

    /// <summary>What is not used, and why.</summary>
    public IReadOnlyList<Refusal> Refusals => refusals;

    /// <summary>How many messages it came from.</summary>
    public int Messages { get; internal set; }

    /// <summary>Whether nothing came out.</summary>
    public bool IsEmpty => readings.Count == 0 && lastKnown.Count == 0 && refusals.Count == 0;

    internal List<Refusal> RefusalList => refusals;

    internal void Clear()
    {
        readings.Clear();
        lastKnown.Clear();
        refusals.Clear();
        Messages = 0;
    }

    internal void Add(in Reading reading, bool isLastKnown) => (isLastKnown ? lastKnown : readings).Add(reading);

    internal void Refuse(in IncomingMessage message, ProbeId? probe, string? quantity, RefusalReason reason, string raw, string? mend = null) =>
        refusals.Add(new(message.ReceivedAt, message.Topic, probe, quantity, reason, Cut(raw), mend ?? Mends.For(reason)));

    /// <summary>Refuses the whole message, with its payload as text: bytes that are none come out as replacement characters.</summary>
    internal void Refuse(in IncomingMessage message, ProbeId? probe, RefusalReason reason, string? mend = null) =>
        Refuse(message, probe, null, reason, TextOf(message.Payload.Span), mend);

    internal static string TextOf(ReadOnlySpan<byte> bytes) =>
        Cut(Encoding.UTF8.GetString(bytes[..Math.Min(bytes.Length, 4 * Refusal.RawLengthMax)]));

    private static string Cut(string raw) => raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax];
}
