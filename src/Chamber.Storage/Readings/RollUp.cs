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
            if (quarter.Count > 0 && Slot(row.At, Stretch.LengthMax) != Slot(quarter[0].At, Stretch.LengthMax))
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
        if (quarter.Count >= Stretch.CountMin && !Stands(probe, quarter[0].At)
            && !TryRoll(probe, CollectionsMarshal.AsSpan(quarter), waiting))
        {
            Twelfths(probe, CollectionsMarshal.AsSpan(quarter), waiting);
        }

        quarter.Clear();
    }

    private void Twelfths(long probe, ReadOnlySpan<StoredRow> rows, List<(long First, long Last)> waiting)
    {
        var start = 0;
        for (var i = 1; i <= rows.Length; i++)
        {
            if (i == rows.Length || Slot(rows[i].At, Stretch.StepMax) != Slot(rows[start].At, Stretch.StepMax))
            {
                TryRoll(probe, rows[start..i], waiting);
                start = i;
            }
        }
    }

    private bool TryRoll(long probe, ReadOnlySpan<StoredRow> rows, List<(long First, long Last)> waiting)
    {
        var stretch = new Stretch(rows);
        if (!stretch.IsLevel)
        {
            return false;
        }

        stretch.Bind(insert, probe);
        insert.Run();
        waiting.Add((stretch.First, stretch.Last));
        stretches++;
        removed += stretch.Count;
        return true;
    }

    private bool Stands(long probe, long at)
    {
        var slot = Slot(at, Stretch.LengthMax) * Stretch.LengthMax;
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

    private static long Slot(long at, long length) => Math.DivRem(at, length) is var (slot, rest) && rest < 0 ? slot - 1 : slot;
}
