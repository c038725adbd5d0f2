using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Club.Store;

/// <summary>What is new of a home, read in one go on one state of the database: a home that is watched asks for it each minute.</summary>
/// <param name="Facts">Those after the last one seen.</param>
/// <param name="Settings">What is set for it, as it was written; null where nothing is.</param>
/// <param name="Mark">Up to where readings are seen then.</param>
/// <param name="Readings">What each probe has said after its newest seen, in order of time.</param>
/// <param name="Stretches">Where else readings have changed: late ones, and those of probes that are new.</param>
/// <param name="LastRefusal">The number of its newest refusal.</param>
/// <param name="Refusals">Refusals after the last one seen, in order of arrival.</param>
internal sealed record HomeNews(
    IReadOnlyList<FactEntry> Facts, string? Settings, JournalMark Mark, IReadOnlyList<Reading> Readings,
    IReadOnlyList<(ProbeId Probe, Interval When)> Stretches, long LastRefusal, IReadOnlyList<Refusal> Refusals)
{
    public static async Task<HomeNews> SinceAsync(HomeSession session, int home, Seen past)
    {
        var entries = await FactRows.SinceAsync(session, home, past.Facts);
        var (settings, refused) = (await session.RowsAsync(
            "SELECT (SELECT body FROM setting WHERE home = $1), (SELECT max(number) FROM refusal WHERE home = $1)",
            row => (row.IsDBNull(0) ? null : row.GetString(0), row.IsDBNull(1) ? 0 : row.GetInt64(1)), home))[0];
        var refusals = refused > past.Refusals ? await RefusalRows.SinceAsync(session, home, past.Refusals, past.RefusedFrom) : [];
        var (seen, stretches) = await ReadingChanges.ReadAsync(session, home, past.Mark);
        var newer = stretches.Where(one => one.IsNewer).ToList();
        return new(entries, settings, seen, newer.Count == 0 ? [] : await ReadingsAsync(session, home, newer),
            [.. stretches.Where(one => !one.IsNewer).Select(one => (one.Probe.Name, one.When))], refused, refusals);
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

/// <summary>What somebody has seen of a home.</summary>
/// <param name="Facts">The number of the last fact; 0 for none.</param>
/// <param name="Mark">Up to where readings.</param>
/// <param name="Refusals">The number of the last refusal; 0 for none.</param>
/// <param name="RefusedFrom">Refusals from before are not wanted.</param>
internal readonly record struct Seen(long Facts, JournalMark Mark, long Refusals, Instant RefusedFrom);
