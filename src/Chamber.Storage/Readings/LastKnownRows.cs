using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Values of unknown age, one row a probe: a newer one replaces what it has and leaves the rest.</summary>
internal static class LastKnownRows
{
    public static void Keep(SqliteConnection connection, long key, Reading reading) => connection.Execute(
        """
        INSERT INTO last_known (probe, received, temperature, humidity, moisture, battery) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
        ON CONFLICT DO UPDATE SET received = excluded.received,
          temperature = coalesce(excluded.temperature, temperature), humidity = coalesce(excluded.humidity, humidity),
          moisture = coalesce(excluded.moisture, moisture), battery = coalesce(excluded.battery, battery)
        WHERE excluded.received >= received
        """,
        key,
        reading.ReceivedAt.ToUnixTimeMilliseconds(),
        reading.Temperature?.Celsius,
        reading.Humidity?.Percent,
        reading.Moisture,
        reading.Battery);

    public static List<Reading> All(SqliteConnection connection) => connection.Rows(
        row =>
        {
            var received = Instant.FromUnixTimeMilliseconds(row.GetInt64(1));
            return new Reading(
                new(row.GetString(0)),
                received,
                received,
                Rows.Temperature(row.Real(2)),
                Rows.Humidity(row.Real(3)),
                row.Real(4),
                row.Real(5),
                ClockSource.Arrival);
        },
        "SELECT probe.id, received, temperature, humidity, moisture, battery FROM last_known JOIN probe ON probe.key = last_known.probe "
            + "ORDER BY probe.id");
}
