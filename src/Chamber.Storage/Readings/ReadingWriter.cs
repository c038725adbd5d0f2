using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Readings;

/// <summary>Puts readings into the open transaction of the writing connection, one by one.</summary>
internal sealed class ReadingWriter(SqliteConnection connection, LeftOut leftOut) : IDisposable
{
    private readonly Statement insert = new(connection, """
        INSERT INTO reading (probe, at, received, clock, temperature, humidity, moisture, battery)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8) ON CONFLICT DO NOTHING
        """);

    private readonly Statement fill = new(connection, """
        UPDATE reading SET temperature = coalesce(temperature, ?3), humidity = coalesce(humidity, ?4),
          moisture = coalesce(moisture, ?5), battery = coalesce(battery, ?6)
        WHERE probe = ?1 AND at = ?2 AND ((temperature IS NULL AND ?3 IS NOT NULL) OR (humidity IS NULL AND ?4 IS NOT NULL)
          OR (moisture IS NULL AND ?5 IS NOT NULL) OR (battery IS NULL AND ?6 IS NOT NULL))
        RETURNING at, received, clock, temperature, humidity, moisture, battery
        """);

    private readonly Statement newest = new(connection, """
        SELECT max((SELECT coalesce(max(at), -9e15) FROM reading WHERE probe = ?1),
                   (SELECT coalesce(max(at), -9e15) FROM rolled WHERE probe = ?1))
        """);

    private readonly Statement covering =
        new(connection, "SELECT at + span FROM rolled WHERE probe = ?1 AND at <= ?2 ORDER BY at DESC LIMIT 1");

    private readonly Statement note = new(connection, "INSERT INTO late (probe, first, last) VALUES (?1, ?2, ?3)");

    /// <summary>Writes a reading unless there is one of its probe and millisecond.</summary>
    public bool TryInsert(long probe, long at, in Reading reading)
    {
        insert.Bind(1, probe);
        insert.Bind(2, at);
        insert.Bind(3, reading.ReceivedAt.ToUnixTimeMilliseconds() - at);
        insert.Bind(4, (long)reading.Clock);
        BindQuantities(insert, 5, reading);
        return insert.Run();
    }

    /// <summary>Adds to the reading that is there what it lacks.</summary>
    /// <returns>The whole reading, or null when nothing was lacking.</returns>
    public Reading? TryFill(long probe, long at, in Reading reading)
    {
        fill.Bind(1, probe);
        fill.Bind(2, at);
        BindQuantities(fill, 3, reading);
        if (!fill.Next())
        {
            return null;
        }

        var whole = Rows.Reading(fill, reading.Probe, new(leftOut, reading.Probe));
        fill.Reset();
        return whole;
    }

    /// <summary>The time of the newest reading of a probe, in ms; far in the past when there is none.</summary>
    public long Newest(long probe)
    {
        newest.Bind(1, probe);
        newest.Next();
        var at = newest.Whole(0);
        newest.Reset();
        return at;
    }

    /// <summary>Whether a time falls into a stretch that was rolled up: what comes for it now has been here before.</summary>
    public bool IsRolled(long probe, long at)
    {
        covering.Bind(1, probe);
        covering.Bind(2, at);
        if (!covering.Next())
        {
            return false;
        }

        var end = covering.Whole(0);
        covering.Reset();
        return at <= end;
    }

    /// <summary>Notes a stretch that changed behind the newest reading, so that others fold it again and the roll-up looks at it
    /// again.</summary>
    public void NoteLate(long probe, long first, long last)
    {
        connection.Execute("UPDATE rolled_to SET at = ?2 WHERE probe = ?1 AND at > ?2", probe, first - first % Stretch.LengthMax);
        note.Bind(1, probe);
        note.Bind(2, first);
        note.Bind(3, last);
        note.Run();
    }

    public void Dispose()
    {
        insert.Dispose();
        fill.Dispose();
        newest.Dispose();
        covering.Dispose();
        note.Dispose();
    }

    private static void BindQuantities(Statement statement, int first, in Reading reading)
    {
        statement.Bind(first, reading.Temperature?.Celsius);
        statement.Bind(first + 1, reading.Humidity?.Percent);
        statement.Bind(first + 2, reading.Moisture);
        statement.Bind(first + 3, reading.Battery);
    }
}
