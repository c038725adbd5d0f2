using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Keeps apart what arrives from one probe in the same millisecond. A reading is identified by its probe and millisecond, and of two that
/// are dated by their arrival the second would be taken for the first sent again: a danger that follows at once would be lost.
/// </summary>
internal struct ArrivalRun
{
    // A probe that goes on sending more than one a millisecond is not dated further ahead than this.
    private static readonly Duration LengthMax = Duration.FromSeconds(1);

    private Instant first;
    private Instant last;
    private Quantities held;

    [Flags]
    private enum Quantities
    {
        None = 0,
        Temperature = 1,
        Humidity = 2,
        Moisture = 4,
        Battery = 8,
    }

    /// <summary>The reading as it is, or dated after the last one of the run when that says the same quantity already. What a probe says
    /// in several messages, one for each quantity, stays one reading.</summary>
    public Reading Apart(in Reading reading)
    {
        var quantities = Of(reading);
        if (held == Quantities.None || reading.MeasuredAt < first || reading.MeasuredAt > last)
        {
            (first, last, held) = (reading.MeasuredAt, reading.MeasuredAt, quantities);
            return reading;
        }

        if ((held & quantities) == Quantities.None)
        {
            held |= quantities;
            return reading with { MeasuredAt = last };
        }

        if (last - first >= LengthMax)
        {
            return reading;
        }

        (last, held) = (last + Duration.FromMilliseconds(1), quantities);
        return reading with { MeasuredAt = last };
    }

    private static Quantities Of(in Reading reading) =>
        (reading.Temperature is null ? Quantities.None : Quantities.Temperature)
        | (reading.Humidity is null ? Quantities.None : Quantities.Humidity)
        | (reading.Moisture is null ? Quantities.None : Quantities.Moisture)
        | (reading.Battery is null ? Quantities.None : Quantities.Battery);
}
