using Chamber.Core.Climate;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>What was not used, raw; of each home the newest are kept.</summary>
internal static class RefusalRows
{
    /// <summary>So many are looked at in one go, at most.</summary>
    public const int NewsMax = 1000;

    private const string Columns = "received, source, probe, quantity, reason, raw, fix";

    public static async Task AppendAsync(HomeSession session, int home, IReadOnlyList<Refusal> refusals, int keep)
    {
        if (refusals.Count == 0)
        {
            return;
        }

        var rows = refusals.Skip(refusals.Count - keep).ToList();
        await session.ExecuteAsync(
            """
            INSERT INTO refusal (home, received, source, probe, quantity, reason, raw, fix)
            SELECT $1, * FROM unnest($2, $3, $4, $5, $6, $7, $8)
            """,
            home, rows.Select(one => one.ReceivedAt).ToArray(), rows.Select(one => one.Source).ToArray(),
            rows.Select(one => one.Probe?.Text).ToArray(), rows.Select(one => one.Quantity).ToArray(),
            rows.Select(one => one.Reason.ToString()).ToArray(), rows.Select(one => Cut(one.Raw)).ToArray(),
            rows.Select(one => one.Fix).ToArray());
        await session.ExecuteAsync(
            """
            DELETE FROM refusal WHERE home = $1
              AND number <= (SELECT number FROM refusal WHERE home = $1 ORDER BY number DESC OFFSET $2 LIMIT 1)
            """,
            home, keep);
    }

    /// <summary>The newest of those that are kept, the last one first.</summary>
    public static async Task<IReadOnlyList<Refusal>> NewestAsync(HomeSession session, int home, int limit) => await session.RowsAsync(
        $"SELECT {Columns} FROM refusal WHERE home = $1 ORDER BY number DESC LIMIT $2", Read, home, limit);

    /// <summary>Those with a higher number that came at a time or later, in order of arrival; the newest of them where there are
    /// more than <see cref="NewsMax"/>.</summary>
    public static Task<List<Refusal>> SinceAsync(HomeSession session, int home, long after, Instant from) => session.RowsAsync(
        $"""
        SELECT {Columns} FROM (SELECT * FROM refusal WHERE home = $1 AND number > $2 AND received >= $3 ORDER BY number DESC LIMIT $4) AS r
        ORDER BY number
        """, Read, home, after, from, NewsMax);

    /// <summary>How many of those that are kept there are of each probe and reason.</summary>
    public static async Task<IReadOnlyList<RefusalCount>> CountsAsync(HomeSession session, int home) => await session.RowsAsync(
        "SELECT probe, reason, count(*), max(received) FROM refusal WHERE home = $1 GROUP BY probe, reason ORDER BY probe, reason",
        row => new RefusalCount(Probe(row, 0), Enum.Parse<RefusalReason>(row.GetString(1)), row.GetInt64(2),
            row.GetFieldValue<Instant>(3)),
        home);

    private static Refusal Read(NpgsqlDataReader row) => new(row.GetFieldValue<Instant>(0), row.GetString(1), Probe(row, 2),
        row.IsDBNull(3) ? null : row.GetString(3), Enum.Parse<RefusalReason>(row.GetString(4)), row.GetString(5), row.GetString(6));

    private static ProbeId? Probe(NpgsqlDataReader row, int column) => row.IsDBNull(column) ? null : new ProbeId(row.GetString(column));

    // PostgreSQL takes every letter but one.
    private static string Cut(string raw) =>
        (raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax]).Replace('\0', '�');
}
