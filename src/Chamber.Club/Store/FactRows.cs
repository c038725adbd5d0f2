using Chamber.Core.Facts;
using Chamber.Storage.Facts;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>Between entries and the one table that they are kept in.</summary>
internal static class FactRows
{
    public static async Task<IReadOnlyList<FactEntry>> SinceAsync(HomeSession session, int home, long after) => await session.RowsAsync(
        "SELECT number, act, at, written, who, way, kind, body::text FROM fact WHERE home = $1 AND number > $2 ORDER BY number",
        row => new FactEntry(
            row.GetInt64(0), row.GetInt64(1), FactJson.Read(row.GetString(6), row.GetString(7)), row.GetFieldValue<Instant>(2),
            row.GetFieldValue<Instant>(3), new(row.GetString(4), Enum.Parse<WriteWay>(row.GetString(5)))),
        home, after);

    /// <summary>Adds entries, if the first has the number that comes next. Whoever calls holds the lock of the home.</summary>
    public static async Task<bool> TryAppendAsync(HomeSession session, int home, IReadOnlyList<FactEntry> entries)
    {
        var last = await session.OneAsync<long?>("SELECT max(number) FROM fact WHERE home = $1", home) ?? 0;
        if (entries.Index().Any(one => one.Item.Number != last + 1 + one.Index))
        {
            return false;
        }

        await session.ExecuteAsync(
            """
            INSERT INTO fact (home, number, act, at, written, who, way, kind, version, body)
            SELECT $1, number, act, at, written, who, way, kind, $2, body
            FROM unnest($3, $4, $5, $6, $7, $8, $9, $10) AS new (number, act, at, written, who, way, kind, body)
            """,
            home, (short)FactJson.Version, entries.Select(entry => entry.Number).ToArray(), entries.Select(entry => entry.Act).ToArray(),
            entries.Select(entry => ReadingTimes.Floor(entry.At)).ToArray(),
            entries.Select(entry => ReadingTimes.Floor(entry.WrittenAt)).ToArray(), entries.Select(entry => entry.By.Who).ToArray(),
            entries.Select(entry => entry.By.Way.ToString()).ToArray(),
            entries.Select(entry => FactKinds.NameOf(entry.Fact)).ToArray(),
            new JsonBodies([.. entries.Select(entry => FactJson.Write(entry.Fact))]));
        if (entries.Any(entry => entry.Fact is Core.Facts.Probes.ProbeRenamed or Withdrawn or Corrected))
        {
            await ProbeRows.NameAsync(session, home, FactLog.Of(await SinceAsync(session, home, 0)).Home);
        }

        return true;
    }
}
