using Chamber.Core;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Mqtt.Decoding;

/// <summary>How a payload writes its time. Declared, never guessed.</summary>
public enum TimeForm
{
    /// <summary>RFC 3339 text with an offset.</summary>
    Rfc3339,

    /// <summary>Seconds since 1970, with or without a fraction.</summary>
    EpochSeconds,

    /// <summary>Milliseconds since 1970.</summary>
    EpochMilliseconds,
}

/// <summary>The time that a payload carries: none, an instant, or something that cannot be read.</summary>
internal readonly record struct PayloadTime(bool IsPresent, Instant? At, string Raw)
{
    /// <summary>From here on a number of seconds would lie after the year 5138, and one of milliseconds after March 1973.</summary>
    private const double MillisecondsFrom = 1e11;

    // Instant reaches to the year 9999 and no further.
    private const double EpochSecondsMax = 253_402_300_799;

    public static PayloadTime None => default;

    public static PayloadTime Unreadable(string raw) => new(true, null, raw);

    public static PayloadTime FromText(ReadOnlySpan<byte> text) =>
        Rfc3339.TryParse(text, out var instant) ? new(true, instant, string.Empty) : Unreadable(DecodedBatch.TextOf(text));

    public static PayloadTime FromNumber(double number, TimeForm form)
    {
        var seconds = form == TimeForm.EpochMilliseconds ? number / 1000 : number;
        if (form == TimeForm.Rfc3339 || !(Math.Abs(seconds) <= EpochSecondsMax))
        {
            return Unreadable(number.ToString(System.Globalization.CultureInfo.InvariantCulture));
        }

        // A double holds today's seconds to a quarter of a microsecond; the millisecond is what counts.
        return new(true, Instant.FromUnixTimeMilliseconds((long)Math.Round(seconds * 1000)), string.Empty);
    }

    /// <summary>Chamber's own payload takes both seconds and milliseconds, because no time in use can be mistaken for the other.</summary>
    public static PayloadTime FromNumberOfEitherSize(double number) =>
        FromNumber(number, number < MillisecondsFrom ? TimeForm.EpochSeconds : TimeForm.EpochMilliseconds);
}

/// <summary>How far a payload's own time is trusted.</summary>
/// <param name="AheadMax">Further ahead of arrival is not believed.</param>
/// <param name="BehindMax">Further behind arrival is taken for a clock that was never set.</param>
public sealed record TimeLimits(Duration AheadMax, Duration BehindMax)
{
    /// <summary>10 min ahead, for clocks that run fast; 31 days behind, for a probe or a bridge that sends late what it stored.</summary>
    public static readonly TimeLimits Default = new(Duration.FromMinutes(10), Duration.FromDays(31));

    /// <summary>When it was measured and by whose clock; a refusal of <c>at</c> when the payload's time is there and not
    /// believed. While the time of arrival is itself in doubt no other can be judged by it.</summary>
    internal (Instant MeasuredAt, ClockSource Clock) Judge(PayloadTime time, in IncomingMessage message, ProbeId probe, DecodedBatch into,
        bool isDoubted)
    {
        var arrival = (ToMillisecond(message.ReceivedAt), isDoubted ? ClockSource.Doubted : ClockSource.Arrival);
        if (!time.IsPresent || isDoubted)
        {
            return arrival;
        }

        if (time.At is not { } at)
        {
            into.Refuse(message, probe, "at", RefusalReason.BadTime, time.Raw);
            return arrival;
        }

        if (at.InUtc().Year > Bounds.Year.High)
        {
            into.Refuse(message, probe, "at", RefusalReason.BadTime, at.ToString(),
                "No clock runs ahead by so much: the time is in another unit than declared; until then the time of arrival is used.");
            return arrival;
        }

        if (at - message.ReceivedAt > AheadMax)
        {
            into.Refuse(message, probe, "at", RefusalReason.FutureTime, at.ToString());
            return arrival;
        }

        if (message.ReceivedAt - at > BehindMax)
        {
            into.Refuse(message, probe, "at", RefusalReason.BadTime, at.ToString(),
                "The sensor's clock was never set, or the time is in another unit than declared; until then the time of arrival is used.");
            return arrival;
        }

        return (ToMillisecond(at), ClockSource.Payload);
    }

    // A reading is identified by its probe and millisecond.
    private static Instant ToMillisecond(Instant instant) => Instant.FromUnixTimeMilliseconds(instant.ToUnixTimeMilliseconds());
}
