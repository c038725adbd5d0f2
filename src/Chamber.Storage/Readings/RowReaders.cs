using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>The two walks that there are: whole readings, and temperatures alone, which are most of the work and should cost
/// little.</summary>
internal static class RowReaders
{
    public static RowReader<TemperatureSample> Temperatures(KeptQuantities kept, Instant? receivedBy = null) => new(
        "SELECT at, temperature FROM reading WHERE probe = ?1 AND at >= ?2 AND at < ?3 AND temperature IS NOT NULL"
            + Arrived("received", receivedBy),
        row => Sample(kept, row.Whole(0), row.Quantity(1)),
        "SELECT at, span, temperature FROM rolled WHERE probe = ?1 AND at > ?2 - 900000 AND at < ?3 AND temperature IS NOT NULL"
            + Arrived("span", receivedBy),
        (row, at) => Sample(kept, at, row.Quantity(2)),
        kept);

    public static RowReader<Reading> Whole(ProbeId probe, KeptQuantities kept) => new(
        "SELECT at, received, clock, temperature, humidity, moisture, battery FROM reading WHERE probe = ?1 AND at >= ?2 AND at "
            + "< ?3 ORDER BY at",
        row => Told(Rows.Reading(row, probe, kept)),
        "SELECT at, span, temperature, humidity, moisture, battery FROM rolled WHERE probe = ?1 AND at > ?2 - 900000 AND at "
            + "< ?3 ORDER BY at",
        (row, at) => Told(Rolled(row, at, probe, kept)),
        kept);

    private static string Arrived(string afterwards, Instant? by) => by is { } then
        ? string.Create(CultureInfo.InvariantCulture, $" AND at + {afterwards} <= {then.ToUnixTimeMilliseconds()} ORDER BY at")
        : " ORDER BY at";

    private static TemperatureSample? Sample(KeptQuantities kept, long at, double? celsius) =>
        kept.Temperature(celsius, at) is { } temperature ? new(Instant.FromUnixTimeMilliseconds(at), temperature) : null;

    private static Reading? Told(Reading reading) => reading.IsEmpty ? null : reading;

    private static Reading Rolled(Statement row, long at, ProbeId probe, KeptQuantities kept)
    {
        var when = Instant.FromUnixTimeMilliseconds(at);
        return new(probe, when, when, kept.Temperature(row.Quantity(2), at), kept.Humidity(row.Quantity(3), at),
            kept.Moisture(row.Quantity(4), at), kept.Battery(row.Quantity(5), at));
    }
}
