using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>Reads back what was refused.</summary>
internal static class RefusalRows
{
    public static List<Refusal> Newest(SqliteConnection connection, int limit) => connection.Rows(
        row => new Refusal(
            Instant.FromUnixTimeMilliseconds(row.GetInt64(0)),
            row.GetString(1),
            row.Text(2) is { } probe ? new ProbeId(probe) : null,
            row.Text(3),
            Enum.Parse<RefusalReason>(row.GetString(4)),
            row.GetString(5),
            row.GetString(6)),
        "SELECT received, source, probe, quantity, reason, raw, fix FROM refusal ORDER BY number DESC LIMIT ?1",
        limit);

    public static List<RefusalCount> Counts(SqliteConnection connection) => connection.Rows(
        row => new RefusalCount(
            row.GetString(0) is { Length: > 0 } probe ? new ProbeId(probe) : null,
            Enum.Parse<RefusalReason>(row.GetString(1)),
            row.GetInt64(2),
            Instant.FromUnixTimeMilliseconds(row.GetInt64(3))),
        "SELECT probe, reason, count, last FROM refusal_count ORDER BY probe, reason");
}
