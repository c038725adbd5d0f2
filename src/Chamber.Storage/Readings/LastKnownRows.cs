using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

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

    public static List<Reading> All(SqliteConnection connection, Func<ProbeId, KeptQuantities> keptOf) => connection.Rows(
        row =>
        {
            var probe = new ProbeId(row.GetString(0));
            var received = row.Moment(1);
            var (at, kept) = (received.ToUnixTimeMilliseconds(), keptOf(probe));
            return new Reading(
                probe,
                received,
                received,
                kept.Temperature(row.Real(2), at),
                kept.Humidity(row.Real(3), at),
                kept.Moisture(row.Real(4), at),
                kept.Battery(row.Real(5), at),
                ClockSource.Arrival);
        },
        "SELECT probe.id, received, temperature, humidity, moisture, battery FROM last_known JOIN probe ON probe.key = last_known.probe "
            + "ORDER BY probe.id");
}
