using System.Runtime.InteropServices;
using Chamber.Storage.Files;
using Chamber.Storage.Hot;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Readings;

/// <summary>
/// Puts level stretches in the place of old readings, one probe and so many readings at a time, inside an open transaction.
/// What has been looked at is noted in the same transaction, so that a crash between two passes loses and repeats nothing.
/// </summary>
internal sealed class RollUp(SqliteConnection connection, long olderThan, int readingsMax) : IDisposable
{
    private readonly Statement read = new(connection,
        "SELECT at, temperature, humidity, moisture, battery FROM reading WHERE probe = ?1 AND at >= ?2 AND at < ?3 ORDER BY at");
    private readonly Statement stand = new(connection, "SELECT 1 FROM rolled WHERE probe = ?1 AND at >= ?2 AND at < ?3 LIMIT 1");
    private readonly Statement insert =
        new(connection, "INSERT INTO rolled (probe, at, span, count, temperature, low, high, humidity, moisture, battery) VALUES (?1, ?2, "
        + "?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)");
    private readonly Statement delete = new(connection, "DELETE FROM reading WHERE probe = ?1 AND at >= ?2 AND at <= ?3");
    private readonly List<StoredRow> quarter = [];
    private long looked;
    private long removed;
    private long stretches;

    public RollUpResult Pass()
    {
        var due = connection.Rows(
            row => (Probe: row.GetInt64(0), From: row.GetInt64(1), To: row.GetInt64(2)),
            """
            SELECT key, max(oldest, coalesce(rolled_to.at, oldest)), min(?1, newest - newest % ?2)
            FROM (SELECT key, (SELECT min(at) FROM reading WHERE probe = key) AS oldest, (SELECT max(at) FROM reading WHERE probe = key) AS newest FROM probe)
              LEFT JOIN rolled_to ON rolled_to.probe = key
            WHERE max(oldest, coalesce(rolled_to.at, oldest)) < min(?1, newest - newest % ?2)
            """,
            olderThan - olderThan % Stretch.LengthMax,
            Stretch.LengthMax);
        foreach (var (probe, from, to) in due)
        {
            Probe(probe, from, to);
            if (looked >= readingsMax)
            {
                return new(looked, removed, stretches, More: true);
            }
        }

        return new(looked, removed, stretches, More: false);
    }

    public void Dispose()
    {
        read.Dispose();
        stand.Dispose();
        insert.Dispose();
        delete.Dispose();
    }

    private void Probe(long probe, long from, long to)
    {
        var done = to;
        read.Bind(1, probe);
        read.Bind(2, from);
        read.Bind(3, to);
        var waiting = new List<(long First, long Last)>();
        while (read.Next())
        {
            var row = new StoredRow(read.Whole(0), read.Quantity(1), read.Quantity(2), read.Quantity(3), read.Quantity(4));
            if (quarter.Count > 0 && Stretch.Slot(row.At, Stretch.LengthMax) != Stretch.Slot(quarter[0].At, Stretch.LengthMax))
            {
                Quarter(probe, waiting);
                if (looked >= readingsMax)
                {
                    done = row.At;
                    read.Reset();
                    break;
                }
            }

            looked++;
            quarter.Add(row);
        }

        Quarter(probe, waiting);
        Delete(probe, waiting);
        connection.Execute("INSERT OR REPLACE INTO rolled_to (probe, at) VALUES (?1, ?2)", probe, done);
    }

    /// <summary>A quarter of an hour that already holds a stretch keeps its late readings as they are.</summary>
    private void Quarter(long probe, List<(long First, long Last)> waiting)
    {
        if (quarter.Count >= Stretch.CountMin && !Stands(probe, quarter[0].At))
        {
            foreach (var stretch in Stretch.In(CollectionsMarshal.AsSpan(quarter)))
            {
                Insert(probe, stretch);
                waiting.Add((stretch.First, stretch.Last));
                stretches++;
                removed += stretch.Count;
            }
        }

        quarter.Clear();
    }

    private void Insert(long probe, Stretch stretch)
    {
        insert.Bind(1, probe);
        insert.Bind(2, stretch.First);
        insert.Bind(3, stretch.Last - stretch.First);
        insert.Bind(4, (long)stretch.Count);
        insert.Bind(5, stretch.Temperature.Value);
        insert.Bind(6, stretch.Temperature.Low);
        insert.Bind(7, stretch.Temperature.High);
        insert.Bind(8, stretch.Humidity.Value);
        insert.Bind(9, stretch.Moisture.Value);
        insert.Bind(10, stretch.Battery.Value);
        insert.Run();
    }

    private bool Stands(long probe, long at)
    {
        var slot = Stretch.Slot(at, Stretch.LengthMax) * Stretch.LengthMax;
        stand.Bind(1, probe);
        stand.Bind(2, slot);
        stand.Bind(3, slot + Stretch.LengthMax);
        var stands = stand.Next();
        stand.Reset();
        return stands;
    }

    // After the walk, because a row must not go while the walk is on it.
    private void Delete(long probe, List<(long First, long Last)> waiting)
    {
        foreach (var (first, last) in waiting)
        {
            delete.Bind(1, probe);
            delete.Bind(2, first);
            delete.Bind(3, last);
            delete.Run();
        }
    }
}
