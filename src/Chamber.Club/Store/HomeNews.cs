using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>What is new of a home, read in one go on one state of the database: a home that is watched asks for it each minute.</summary>
/// <param name="Facts">Those after the last one seen.</param>
/// <param name="Mark">Up to where readings are seen then.</param>
/// <param name="Readings">What each probe has said after its newest seen, in order of time.</param>
/// <param name="Stretches">Where else readings have changed: late ones, and those of probes that are new.</param>
internal sealed record HomeNews(
    IReadOnlyList<FactEntry> Facts, JournalMark Mark, IReadOnlyList<Reading> Readings,
    IReadOnlyList<(ProbeId Probe, Interval When)> Stretches)
{
    public static async Task<HomeNews> SinceAsync(HomeSession session, int home, long facts, JournalMark mark)
    {
        var entries = await FactRows.SinceAsync(session, home, facts);
        var (seen, stretches) = await ReadingChanges.ReadAsync(session, home, mark);
        var newer = stretches.Where(one => one.IsNewer).ToList();
        return new(entries, seen, newer.Count == 0 ? [] : await ReadingsAsync(session, home, newer),
            [.. stretches.Where(one => !one.IsNewer).Select(one => (one.Probe.Name, one.When))]);
    }

    private static Task<List<Reading>> ReadingsAsync(HomeSession session, int home, List<ChangedStretch> newer)
    {
        var names = newer.ToDictionary(one => one.Probe.Key, one => one.Probe.Name);
        return session.RowsAsync(
            $"""
            SELECT s.probe, {ReadingRow.Columns} FROM unnest($2, $3, $4) AS s (probe, first, last)
              JOIN reading r ON r.home = $1 AND r.probe = s.probe AND r.at > s.first AND r.at <= s.last
            WHERE r.at > $5 AND r.at <= $6 ORDER BY r.at, s.probe
            """,
            row => ReadingRow.Read(row, names[row.GetInt32(0)], first: 1), home, newer.Select(one => one.Probe.Key).ToArray(),
            newer.Select(one => one.When.Start).ToArray(), newer.Select(one => one.Probe.Newest!.Value).ToArray(),
            // Said once more in plain numbers, so that only the partitions of that time are looked at.
            newer.Min(one => one.When.Start), newer.Max(one => one.Probe.Newest!.Value));
    }
}
