using Chamber.Core.Climate;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>Between readings and the columns that they are kept in.</summary>
internal static class ReadingRow
{
    public const string Columns = "at, received, clock, temperature, humidity, moisture, battery";

    /// <summary>A reading from <see cref="Columns"/>, which begin at one of the row's.</summary>
    public static Reading Read(NpgsqlDataReader row, ProbeId probe, int first = 0) => new(
        probe,
        row.GetFieldValue<Instant>(first),
        row.GetFieldValue<Instant>(first + 1),
        Quantity(row, first + 3) is { } celsius ? Temperature.FromCelsius(celsius) : null,
        Quantity(row, first + 4) is { } percent ? RelativeHumidity.FromPercent(percent) : null,
        Quantity(row, first + 5),
        Quantity(row, first + 6),
        (ClockSource)row.GetInt16(first + 2));

    /// <summary>Adds what is missing.</summary>
    public static Reading Filled(Reading known, Reading more) => known with
    {
        Temperature = known.Temperature ?? more.Temperature,
        Humidity = known.Humidity ?? more.Humidity,
        Moisture = known.Moisture ?? more.Moisture,
        Battery = known.Battery ?? more.Battery,
    };

    /// <summary>The columns of the quantities, of many readings.</summary>
    public static object[] Quantities(IReadOnlyList<Reading> readings) =>
    [
        readings.Select(one => one.Temperature?.Celsius).ToArray(), readings.Select(one => one.Humidity?.Percent).ToArray(),
        readings.Select(one => one.Moisture).ToArray(), readings.Select(one => one.Battery).ToArray(),
    ];

    public static double? Quantity(NpgsqlDataReader row, int column) => row.IsDBNull(column) ? null : row.GetDouble(column);
}
