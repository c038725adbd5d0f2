using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Chamber.Storage.Readings;

/// <summary>
/// The small numbers that stand for probes inside the file. Only numbers that were committed are remembered across
/// transactions, so that one that was rolled back is never used.
/// </summary>
internal sealed class ProbeKeys(int max)
{
    private readonly Dictionary<string, long> committed = new(StringComparer.Ordinal);
    private readonly Dictionary<string, long> pending = new(StringComparer.Ordinal);

    /// <summary>The number of a probe; a new probe gets one, as long as there are fewer than the bound.</summary>
    public long? Take(SqliteConnection connection, ProbeId probe)
    {
        if (committed.TryGetValue(probe.Text, out var key) || pending.TryGetValue(probe.Text, out key))
        {
            return key;
        }

        if ((Find(connection, probe) ?? Add(connection, probe)) is not { } taken)
        {
            return null;
        }

        pending.Add(probe.Text, taken);
        return taken;
    }

    public static long? Find(SqliteConnection connection, ProbeId probe) =>
        connection.Whole(
            "SELECT key FROM probe WHERE id = ?1 UNION ALL SELECT probe FROM former_probe WHERE id = ?1 LIMIT 1", probe.Text) is > 0 and var key
            ? key
            : null;

    public void Commit()
    {
        foreach (var (probe, key) in pending)
        {
            committed[probe] = key;
        }

        pending.Clear();
    }

    public void RollBack() => pending.Clear();

    private long? Add(SqliteConnection connection, ProbeId probe) =>
        connection.Whole("SELECT count(*) FROM probe") < max
            ? connection.Insert("INSERT INTO probe (id) VALUES (?1)", probe.Text)
            : null;
}
