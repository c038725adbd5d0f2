using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>From the columns of a row to the words of the domain.</summary>
internal static class Rows
{
    /// <summary>at, received, clock, temperature, humidity, moisture, battery.</summary>
    public static Reading Reading(Statement row, ProbeId probe, KeptQuantities kept)
    {
        var at = row.Whole(0);
        return new(
            probe,
            Instant.FromUnixTimeMilliseconds(at),
            KeptQuantities.ReceivedAt(at, row.Whole(1)),
            kept.Temperature(row.Quantity(3), at),
            kept.Humidity(row.Quantity(4), at),
            kept.Moisture(row.Quantity(5), at),
            kept.Battery(row.Quantity(6), at),
            row.Whole(2) switch
            {
                (long)ClockSource.Arrival => ClockSource.Arrival,
                (long)ClockSource.Doubted => ClockSource.Doubted,
                (long)ClockSource.Overtaken => ClockSource.Overtaken,
                _ => ClockSource.Payload,
            });
    }
}
