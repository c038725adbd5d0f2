using System.Globalization;
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

    /// <summary>From retained messages without their own time: to be shown as last known, never stored or counted.</summary>
    public IReadOnlyList<Reading> LastKnown => lastKnown;

    /// <summary>What is not used, and why.</summary>
    public IReadOnlyList<Refusal> Refusals => refusals;

    /// <summary>How many messages it came from.</summary>
    public int Messages { get; internal set; }

    /// <summary>Whether nothing came out.</summary>
    public bool IsEmpty => readings.Count == 0 && lastKnown.Count == 0 && refusals.Count == 0;

    /// <summary>How far it is filled: what a message adds lies between two marks.</summary>
    internal BatchMark Mark => new(readings.Count, lastKnown.Count, refusals.Count);

    internal List<Refusal> RefusalList => refusals;

    /// <summary>A copy of what some messages added.</summary>
    internal DecodedBatch Part(BatchMark from, BatchMark to, int messages)
    {
        var part = new DecodedBatch { Messages = messages };
        part.readings.AddRange(readings[from.Readings..to.Readings]);
        part.lastKnown.AddRange(lastKnown[from.LastKnown..to.LastKnown]);
        part.refusals.AddRange(refusals[from.Refusals..to.Refusals]);
        return part;
    }

    /// <summary>Takes back what came after a mark.</summary>
    internal void CutTo(BatchMark mark)
    {
        readings.RemoveRange(mark.Readings, readings.Count - mark.Readings);
        lastKnown.RemoveRange(mark.LastKnown, lastKnown.Count - mark.LastKnown);
        refusals.RemoveRange(mark.Refusals, refusals.Count - mark.Refusals);
    }

    internal void Clear()
    {
        readings.Clear();
        lastKnown.Clear();
        refusals.Clear();
        Messages = 0;
    }

    internal void Add(in Reading reading, bool isLastKnown) => (isLastKnown ? lastKnown : readings).Add(reading);

    internal void Refuse(in IncomingMessage message, ProbeId? probe, string? quantity, RefusalReason reason, string raw,
        string? fix = null) =>
        refusals.Add(new(message.ReceivedAt, message.Topic, probe, quantity, reason, Cut(raw), fix ?? Fixes.For(reason)));

    /// <summary>Refuses the whole message, with its payload as text: bytes that are none come out as replacement characters.</summary>
    internal void Refuse(in IncomingMessage message, ProbeId? probe, RefusalReason reason, string? fix = null) =>
        Refuse(message, probe, null, reason, TextOf(message.Payload.Span), fix);

    internal static string TextOf(ReadOnlySpan<byte> bytes) =>
        Cut(Encoding.UTF8.GetString(bytes[..Math.Min(bytes.Length, 4 * Refusal.RawLengthMax)]));

    /// <summary>
    /// Puts a whole message aside that the store would not take. Whatever in it was the matter must not hinder this row too, so
    /// topic and payload come in printable ASCII, any other byte as <c>\xNN</c>.
    /// </summary>
    internal void PutAside(in IncomingMessage message, ProbeId? probe)
    {
        refusals.Add(new(
            message.ReceivedAt, Printable(Encoding.UTF8.GetBytes(message.Topic)), probe, null, RefusalReason.NotStored,
                Printable(message.Payload.Span), Fixes.For(RefusalReason.NotStored)));
        Messages++;
    }

    private static string Printable(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder();
        for (var index = 0; index < bytes.Length && text.Length < Refusal.RawLengthMax; index++)
        {
            _ = bytes[index] is >= (byte)' ' and <= (byte)'~' and not (byte)'\\'
                ? text.Append((char)bytes[index])
                : text.Append(CultureInfo.InvariantCulture, $"\\x{bytes[index]:X2}");
        }

        return Cut(text.ToString());
    }

    private static string Cut(string raw) => raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax];
}

/// <summary>How far a batch was filled.</summary>
internal readonly record struct BatchMark(int Readings, int LastKnown, int Refusals);
