using NodaTime;

namespace Chamber.Club.Store;

/// <summary>
/// What is new since a mark: for each probe what lies after its newest reading then, and the late stretches noted since.
/// When so many were late that the oldest notes are gone, every probe has changed from its beginning.
/// </summary>
internal static class ReadingChanges
{
    private static readonly Duration Millisecond = Duration.FromMilliseconds(1);

    public static async Task<JournalChanges> SinceAsync(HomeSession session, int home, JournalMark mark)
    {
        var (seenNow, stretches) = await ReadAsync(session, home, mark);
        return new(seenNow, [.. stretches.Select(one => (one.Probe.Name, one.When))]);
    }

    /// <summary>The same with what the database knows of each probe.</summary>
    public static async Task<(JournalMark Mark, List<ChangedStretch> Stretches)> ReadAsync(HomeSession session, int home, JournalMark mark)
    {
        // The late ones first: what comes in between the two questions is then told the next time, or as newer than the newest.
        var late = await session.RowsAsync(
            "SELECT number, probe, first, last FROM late WHERE home = $1 ORDER BY number",
            row => (Number: row.GetInt64(0), Probe: row.GetInt32(1),
                First: row.GetFieldValue<Instant>(2), Last: row.GetFieldValue<Instant>(3)),
            home);
        var probes = await ProbeRows.AllAsync(session, home);
        var missed = late is [var oldest, ..] && oldest.Number > mark.Late + 1;
        var stretches = new List<ChangedStretch>();
        foreach (var probe in probes)
        {
            Instant? seen = !missed && mark.Newest.TryGetValue(probe.Name, out var before) ? before : null;
            if (seen != probe.Newest)
            {
                stretches.Add(new(probe, new(seen + Duration.Epsilon, probe.Newest + Millisecond), IsNewer: seen is not null));
            }
        }

        var known = probes.ToDictionary(probe => probe.Key);
        stretches.AddRange(late.Where(one => !missed && one.Number > mark.Late)
            .Select(one => new ChangedStretch(known[one.Probe], new(one.First, one.Last + Millisecond), IsNewer: false)));
        var seenNow = new JournalMark(
            late is [.., var newest] ? newest.Number : mark.Late, probes.ToDictionary(probe => probe.Name, probe => probe.Newest!.Value));
        return (seenNow, stretches);
    }
}

/// <summary>A time in which readings of a probe have changed.</summary>
/// <param name="Probe">Whose.</param>
/// <param name="When">When.</param>
/// <param name="IsNewer">Whether it follows on what was seen, so that nothing of it can have been summed up.</param>
internal sealed record ChangedStretch(ProbeRow Probe, Interval When, bool IsNewer);
