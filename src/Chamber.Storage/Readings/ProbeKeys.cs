using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Readings;

/// <summary>The small numbers that stand for probes inside the file. They are looked up each time: another process may have given a probe
/// another name, and what arrives under the former one is its own.</summary>
internal static class ProbeKeys
{
    /// <summary>The number of a probe by its present name or a former one; null when nothing is known of it.</summary>
    public static long? Find(SqliteConnection connection, ProbeId probe) =>
        connection.Whole(
            "SELECT key FROM probe WHERE id = ?1 UNION ALL SELECT probe FROM former_probe WHERE id = ?1 LIMIT 1", probe.Text) is > 0 and var key
            ? key
            : null;

    /// <summary>The same; a new probe gets a number, as long as there are fewer than <paramref name="max"/>.</summary>
    public static long? Take(SqliteConnection connection, ProbeId probe, int max) => Find(connection, probe)
        ?? (connection.Whole("SELECT count(*) FROM probe") < max
            ? connection.Insert("INSERT INTO probe (id) VALUES (?1)", probe.Text)
            : null);

    /// <summary>The present name of a probe by its number.</summary>
    public static ProbeId NameOf(SqliteConnection connection, long key) =>
        new(connection.Text("SELECT id FROM probe WHERE key = ?1", key)!);
}
