using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>The two walks that there are: whole readings, and temperatures alone, which are most of the work and should cost
/// little.</summary>
internal static class RowReaders
{
    public static readonly RowReader<TemperatureSample> Temperatures = new(
        "SELECT at, temperature FROM reading WHERE probe = ?1 AND at >= ?2 AND at < ?3 AND temperature IS NOT NULL ORDER BY at",
        row => Sample(row.Whole(0), row.Quantity(1)),
        "SELECT at, span, temperature FROM rolled WHERE probe = ?1 AND at > ?2 - 900000 AND at < ?3 AND temperature IS NOT "
            + "NULL ORDER BY at",
        (row, at) => Sample(at, row.Quantity(2)));

    public static RowReader<Reading> Whole(ProbeId probe) => new(
        "SELECT at, received, clock, temperature, humidity, moisture, battery FROM reading WHERE probe = ?1 AND at >= ?2 AND at "
            + "< ?3 ORDER BY at",
        row => Rows.Reading(row, probe),
        "SELECT at, span, temperature, humidity, moisture, battery FROM rolled WHERE probe = ?1 AND at > ?2 - 900000 AND at "
            + "< ?3 ORDER BY at",
        (row, at) => Rolled(row, Instant.FromUnixTimeMilliseconds(at), probe));

    private static TemperatureSample Sample(long at, double? celsius) =>
        new(Instant.FromUnixTimeMilliseconds(at), Temperature.FromCelsius(celsius ?? 0));

    private static Reading Rolled(Statement row, Instant at, ProbeId probe) =>
        new(probe, at, at, Rows.Temperature(row.Quantity(2)), Rows.Humidity(row.Quantity(3)), row.Quantity(4), row.Quantity(5));
}
