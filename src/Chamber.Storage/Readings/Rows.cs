using Chamber.Core.Climate;
using Chamber.Storage.Hot;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>From the columns of a row to the words of the domain.</summary>
internal static class Rows
{
    /// <summary>at, received, clock, temperature, humidity, moisture, battery.</summary>
    public static Reading Reading(Statement row, ProbeId probe)
    {
        var at = row.Whole(0);
        return new(
            probe,
            Instant.FromUnixTimeMilliseconds(at),
            Instant.FromUnixTimeMilliseconds(at + row.Whole(1)),
            Temperature(row.Quantity(3)),
            Humidity(row.Quantity(4)),
            row.Quantity(5),
            row.Quantity(6),
            (ClockSource)row.Whole(2));
    }

    public static Temperature? Temperature(double? celsius) =>
        celsius is { } value ? Core.Climate.Temperature.FromCelsius(value) : null;

    public static RelativeHumidity? Humidity(double? percent) =>
        percent is { } value ? RelativeHumidity.FromPercent(value) : null;
}
