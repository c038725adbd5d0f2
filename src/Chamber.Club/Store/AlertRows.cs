using Chamber.Core.Alerts;
using NodaTime;
using Npgsql;

namespace Chamber.Club.Store;

/// <summary>Alerts of a home as they were told.</summary>
internal static class AlertRows
{
    private const string Columns =
        "SELECT number, kind, subject_kind, subject, severity, since, opened, closed, close_reason, evidence, known, "
            + "notified, notified_severity, notified_severity_since, notified_times, notified_over FROM alert ";

    /// <summary>Those that are open, and those that were closed at a time or later, in the order in which they were opened.</summary>
    /// <returns>Each with the number of the newest fact that was known when it was written down.</returns>
    public static async Task<IReadOnlyList<(AlertEntry Alert, long Known)>> SinceAsync(
        HomeSession session, int home, Instant closedSince) =>
        await session.RowsAsync(Columns + "WHERE home = $1 AND (closed IS NULL OR closed >= $2) ORDER BY opened, number", Read,
            home, closedSince);

    /// <summary>One of them by its number; empty where there is none.</summary>
    public static async Task<IReadOnlyList<(AlertEntry Alert, long Known)>> OfNumberAsync(HomeSession session, int home, long number) =>
        await session.RowsAsync(Columns + "WHERE home = $1 AND number = $2", Read, home, number);

    /// <summary>Writes an alert down: the one of its number, the one that is open for its subject, or a new one. Whoever calls holds the
    /// lock of the home.</summary>
    /// <returns>Its number, and whether it is new.</returns>
    public static async Task<(long Number, bool IsNew)> SaveAsync(
        HomeSession session, int home, AlertEntry entry, long factsKnown)
    {
        var known = entry.Number > 0 ? entry.Number : await session.OneAsync<long?>(
            """
            SELECT number FROM alert WHERE home = $1 AND kind = $2 AND subject_kind = $3 AND subject = $4
              AND (closed IS NULL OR opened = $5) ORDER BY closed NULLS FIRST LIMIT 1
            """,
            home, entry.Kind.Name, entry.Subject.Kind.ToString(), entry.Subject.Name, entry.OpenedAt);
        var number = known ?? await session.OneAsync<long>("SELECT coalesce(max(number), 0) + 1 FROM alert WHERE home = $1", home);
        await session.ExecuteAsync(
            """
            INSERT INTO alert (home, number, kind, subject_kind, subject, severity, since, opened, closed, close_reason, evidence, known)
            VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)
            ON CONFLICT (home, number) DO UPDATE SET subject = excluded.subject, severity = excluded.severity,
              since = excluded.since, opened = excluded.opened, closed = excluded.closed, close_reason = excluded.close_reason,
              evidence = excluded.evidence, known = excluded.known
            """,
            home, number, entry.Kind.Name, entry.Subject.Kind.ToString(), entry.Subject.Name, entry.Severity.ToString(), entry.Since,
            entry.OpenedAt, entry.ClosedAt, entry.CloseReason?.ToString(), entry.EvidenceJson, factsKnown);
        return (number, known is null);
    }

    private static (AlertEntry Alert, long Known) Read(NpgsqlDataReader row) => (new(
        row.GetInt64(0), new(row.GetString(1)), new(Enum.Parse<SubjectKind>(row.GetString(2)), row.GetString(3)),
        Enum.Parse<Severity>(row.GetString(4)), row.GetFieldValue<Instant>(5), row.GetFieldValue<Instant>(6), row.GetString(9))
    {
        ClosedAt = row.IsDBNull(7) ? null : row.GetFieldValue<Instant>(7),
        CloseReason = row.IsDBNull(8) ? null : Enum.Parse<CloseReason>(row.GetString(8)),
        Notified = new(row.IsDBNull(11) ? null : row.GetFieldValue<Instant>(11),
            row.IsDBNull(12) ? null : Enum.Parse<Severity>(row.GetString(12)), row.IsDBNull(13) ? null : row.GetFieldValue<Instant>(13),
            row.GetInt32(14), row.GetBoolean(15)),
    }, row.GetInt64(10));
}
