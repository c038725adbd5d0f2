using Chamber.Core.Climate;
using Chamber.Storage.Files;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Chamber.Storage.Readings;

/// <summary>
/// What is new since a mark: for each probe what lies after its newest reading then, and the late stretches noted since.
/// When so many were late that the oldest notes are gone, every probe has changed from its beginning.
/// </summary>
internal static class ChangeQuery
{
    public static JournalChanges Since(SqliteConnection connection, JournalMark mark)
    {
        var stretches = new List<(ProbeId, Interval)>();
        var newest = new Dictionary<ProbeId, Instant>();
        var missed = connection.Whole("SELECT min(number) FROM late") > mark.Late + 1;
        foreach (var (probe, last) in Newest(connection))
        {
            newest[probe] = last;
            Instant? seen = !missed && mark.Newest.TryGetValue(probe, out var before) ? before : null;
            if (seen != last)
            {
                stretches.Add((probe, new Interval(seen + Duration.Epsilon, After(last))));
            }
        }

        stretches.AddRange(missed ? [] : Late(connection, mark.Late));
        return new(new(connection.Whole("SELECT coalesce(max(number), ?1) FROM late", mark.Late), newest), stretches);
    }

    public static (long Rows, Instant? Oldest) Unread(SqliteConnection connection, JournalMark mark)
    {
        var (rows, oldest) = (0L, long.MaxValue);
        foreach (var (key, probe) in connection.Rows(row => (row.GetInt64(0), new ProbeId(row.GetString(1))), "SELECT key, id FROM probe"))
        {
            var after = mark.Newest.TryGetValue(probe, out var seen) ? seen.ToUnixTimeMilliseconds() : long.MinValue;
            foreach (var table in (string[])["reading", "rolled"])
            {
                rows += connection.Whole($"SELECT count(*) FROM {table} WHERE probe = ?1 AND at > ?2", key, after);
                oldest = Math.Min(oldest, connection.Whole($"SELECT coalesce(min(at), ?3) FROM {table} WHERE probe = ?1 AND at > ?2", key,
                    after, long.MaxValue));
            }
        }

        return (rows, oldest == long.MaxValue ? null : Within(oldest));
    }

    private static List<(ProbeId Probe, Instant Last)> Newest(SqliteConnection connection) => connection.Rows(
        row => (new ProbeId(row.GetString(0)), Instant.FromUnixTimeMilliseconds(row.GetInt64(1))),
        "SELECT id, at FROM (SELECT id, (SELECT max(at) FROM reading WHERE reading.probe = probe.key AND at < ?1) AS at FROM probe) "
            + "WHERE at >= ?2",
        KeptQuantities.End,
        KeptQuantities.First);

    private static List<(ProbeId Probe, Interval When)> Late(SqliteConnection connection, long since) => connection.Rows(
        row => (new ProbeId(row.GetString(0)),
            new Interval(Within(row.GetInt64(1)), After(Within(row.GetInt64(2))))),
        "SELECT probe.id, first, last FROM late JOIN probe ON probe.key = late.probe WHERE number > ?1 ORDER BY number",
        since);

    private static Instant Within(long at) =>
        Instant.FromUnixTimeMilliseconds(Math.Clamp(at, KeptQuantities.First, KeptQuantities.End));

    private static Instant After(Instant last) => last + Duration.FromMilliseconds(1);
}
