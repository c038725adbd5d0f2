using Chamber.Core.Climate;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>What was not used, raw; of each home the newest are kept.</summary>
internal static class RefusalRows
{
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
        """
        SELECT received, source, probe, quantity, reason, raw, fix FROM refusal WHERE home = $1 ORDER BY number DESC LIMIT $2
        """,
        row => new Refusal(row.GetFieldValue<Instant>(0), row.GetString(1), Probe(row, 2), row.IsDBNull(3) ? null : row.GetString(3),
            Enum.Parse<RefusalReason>(row.GetString(4)), row.GetString(5), row.GetString(6)),
        home, limit);

    /// <summary>How many of those that are kept there are of each probe and reason.</summary>
    public static async Task<IReadOnlyList<RefusalCount>> CountsAsync(HomeSession session, int home) => await session.RowsAsync(
        "SELECT probe, reason, count(*), max(received) FROM refusal WHERE home = $1 GROUP BY probe, reason ORDER BY probe, reason",
        row => new RefusalCount(Probe(row, 0), Enum.Parse<RefusalReason>(row.GetString(1)), row.GetInt64(2),
            row.GetFieldValue<Instant>(3)),
        home);

    private static ProbeId? Probe(NpgsqlDataReader row, int column) => row.IsDBNull(column) ? null : new ProbeId(row.GetString(column));

    // PostgreSQL takes every letter but one.
    private static string Cut(string raw) =>
        (raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax]).Replace('\0', '�');
}
