using System.Runtime.InteropServices;
using Chamber.Storage.Readings;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>
/// Puts level stretches in the place of old readings, one probe and about so many readings at a time, inside an open transaction. What has
/// been looked at is noted in the same transaction, so that a crash between two passes loses and repeats nothing.
/// </summary>
internal sealed class ClubRollUp(HomeSession session, int home, int readingsMax)
{
    private long looked;
    private long removed;
    private long stretches;

    public async Task<RollUpResult> PassAsync(Instant olderThan)
    {
        await session.LockAsync([home]);
        var due = await session.RowsAsync(
            """
            SELECT key, greatest(oldest, coalesce(rolled_to, oldest)), newest FROM (SELECT key, newest, rolled_to,
                (SELECT min(at) FROM reading r WHERE r.home = p.home AND r.probe = p.key) AS oldest FROM probe p WHERE home = $1) AS known
            WHERE oldest IS NOT NULL ORDER BY key
            """,
            row => (Probe: row.GetInt32(0), From: row.GetFieldValue<Instant>(1), Newest: row.GetFieldValue<Instant>(2)),
            home);
        foreach (var (probe, from, newest) in due)
        {
            var to = ReadingTimes.QuarterOf(Instant.Min(olderThan, newest));
            if (from < to)
            {
                await ProbeAsync(probe, from, to);
            }

            if (looked >= readingsMax)
            {
                return new(looked, removed, stretches, More: true);
            }
        }

        return new(looked, removed, stretches, More: false);
    }

    private async Task ProbeAsync(int probe, Instant from, Instant to)
    {
        var limit = readingsMax - (int)looked;
        var rows = await session.RowsAsync(
            """
            SELECT at, temperature, humidity, moisture, battery FROM reading
            WHERE home = $1 AND probe = $2 AND at >= $3 AND at < $4 ORDER BY at LIMIT $5
            """,
            row => new StoredRow(row.GetFieldValue<Instant>(0).ToUnixTimeMilliseconds(), ReadingRow.Quantity(row, 1),
                ReadingRow.Quantity(row, 2), ReadingRow.Quantity(row, 3), ReadingRow.Quantity(row, 4)),
            home, probe, from, to, limit);
        looked += rows.Count;

        // The last quarter of an hour may go on beyond what was read: the next pass begins with it.
        if (rows.Count == limit && Slot(rows[0]) != Slot(rows[^1]))
        {
            to = Instant.FromUnixTimeMilliseconds(Slot(rows[^1]) * Stretch.LengthMax);
            rows.RemoveAll(row => Slot(row) == Slot(rows[^1]));
        }

        await ReplaceAsync(probe, Found(rows, await StandingAsync(probe, from, to)));
        await session.ExecuteAsync("UPDATE probe SET rolled_to = $3 WHERE home = $1 AND key = $2", home, probe, to);
    }

    // A quarter of an hour that already holds a stretch keeps its late readings as they are.
    private static List<Stretch> Found(List<StoredRow> rows, HashSet<long> standing)
    {
        var found = new List<Stretch>();
        var all = CollectionsMarshal.AsSpan(rows);
        for (var (start, end) = (0, 0); start < all.Length; start = end)
        {
            while (end < all.Length && Slot(all[end]) == Slot(all[start]))
            {
                end++;
            }

            found.AddRange(standing.Contains(Slot(all[start])) ? [] : Stretch.In(all[start..end]));
        }

        return found;
    }

    private async Task<HashSet<long>> StandingAsync(int probe, Instant from, Instant to) => [.. await session.RowsAsync(
        "SELECT at FROM rolled WHERE home = $1 AND probe = $2 AND at >= $3 AND at < $4",
        row => Stretch.Slot(row.GetFieldValue<Instant>(0).ToUnixTimeMilliseconds(), Stretch.LengthMax),
        home, probe, ReadingTimes.QuarterOf(from), to)];

    private async Task ReplaceAsync(int probe, List<Stretch> level)
    {
        if (level.Count == 0)
        {
            return;
        }

        var (first, last) = (level.ConvertAll(one => At(one.First)), level.ConvertAll(one => At(one.Last)));
        await session.ExecuteAsync(
            """
            INSERT INTO rolled (home, probe, at, span, count, temperature, low, high, humidity, moisture, battery)
            SELECT $1, $2, * FROM unnest($3, $4, $5, $6, $7, $8, $9, $10, $11)
            """,
            home, probe, first.ToArray(), level.Select(one => (int)(one.Last - one.First)).ToArray(),
            level.Select(one => one.Count).ToArray(), level.Select(one => one.Temperature.Value).ToArray(),
            level.Select(one => one.Temperature.Low).ToArray(), level.Select(one => one.Temperature.High).ToArray(),
            level.Select(one => one.Humidity.Value).ToArray(), level.Select(one => one.Moisture.Value).ToArray(),
            level.Select(one => one.Battery.Value).ToArray());
        removed += await session.ExecuteAsync(
            """
            DELETE FROM reading r USING unnest($3, $4) AS level (first, last)
            WHERE r.home = $1 AND r.probe = $2 AND r.at >= level.first AND r.at <= level.last
            """,
            home, probe, first.ToArray(), last.ToArray());
        stretches += level.Count;
    }

    private static long Slot(StoredRow row) => Stretch.Slot(row.At, Stretch.LengthMax);

    private static Instant At(long milliseconds) => Instant.FromUnixTimeMilliseconds(milliseconds);
}
