using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Storage.Moving;
using NodaTime;

namespace Chamber.Club.Intake;

/// <summary>Readings that a home's own Chamber sends with all that it knows of them, and of which it wants to hear that they are
/// kept.</summary>
internal static class ForwardedPacket
{
    /// <summary>A larger one is refused unread, bytes.</summary>
    public const int LengthMax = 64 * 1024;

    private const string Clock =
        "The packet was not taken in: set the home's clock, then set aside there what it measured under a wrong one.";

    // Each month has a partition of all homes, so no home may name any month it likes.
    private static readonly Instant First = Instant.FromUtc(2000, 1, 1, 0, 0);
    private static readonly Duration AheadMax = Duration.FromDays(1);

    /// <summary>What is kept of one: its readings, or a refusal of the whole.</summary>
    public static (IReadOnlyList<Reading> Readings, Refusal? Refusal) Read(in IncomingMessage message)
    {
        if (message.Payload.Length > LengthMax)
        {
            return ([], Refused(message, RefusalReason.TooLarge, "Send fewer readings in a packet."));
        }

        try
        {
            var readings = ReadingLines.Read(message.Payload);
            var latest = message.ReceivedAt + AheadMax;
            return readings.Any(reading => reading.MeasuredAt > latest) ? ([], Refused(message, RefusalReason.FutureTime, Clock))
                : readings.Any(reading => reading.MeasuredAt < First) ? ([], Refused(message, RefusalReason.BadTime, Clock))
                : (readings, null);
        }
        catch (FormatException problem)
        {
            return ([], Refused(message, RefusalReason.Malformed, problem.Message));
        }
    }

    private static Refusal Refused(in IncomingMessage message, RefusalReason reason, string fix)
    {
        var start = Encoding.UTF8.GetString(message.Payload.Span[..Math.Min(message.Payload.Length, Refusal.RawLengthMax)]);
        return new(message.ReceivedAt, message.Topic, null, null, reason, start, fix);
    }
}
