using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>How far somebody has read the journal. Kept by the reader; can be recorded and used after a restart.</summary>
/// <param name="Late">The number of the last late stretch that was seen.</param>
/// <param name="Newest">The newest reading of each probe that was seen.</param>
public sealed record JournalMark(long Late, IReadOnlyDictionary<ProbeId, Instant> Newest)
{
    /// <summary>Nothing has been read yet.</summary>
    public static readonly JournalMark Beginning = new(0, new Dictionary<ProbeId, Instant>());
}

/// <summary>What has changed in the journal since a mark.</summary>
/// <param name="Mark">The mark to ask with the next time.</param>
/// <param name="Stretches">For each probe the times that hold new or fuller readings, half-open; they may overlap.</param>
public sealed record JournalChanges(JournalMark Mark, IReadOnlyList<(ProbeId Probe, Interval When)> Stretches);
