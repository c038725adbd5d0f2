using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>
/// From when on the readings of a probe are folded again after a start: as far back as anything that still counts began. Otherwise an alert
/// that has been open for weeks would not be found again, and hours that a batch has lost would be forgotten.
/// </summary>
internal sealed class RebuildReach
{
    /// <summary>What is usual is learnt from so much before an alert began.</summary>
    private static readonly Duration Learning = Duration.FromDays(7);

    /// <summary>A batch that nobody has ended is not followed back further than this.</summary>
    private static readonly Duration BatchMax = Duration.FromDays(60);

    private readonly Dictionary<SpotId, Instant> bySpot = [];
    private readonly Dictionary<string, Instant> byProbe = [];
    private readonly HashSet<ProbeId> heard;
    private Instant ofAll;

    public RebuildReach(HomeFacts facts, IEnumerable<Alert> stored, WatchPast past, Instant now)
    {
        var from = ofAll = past.From;
        heard = [.. past.Heard.Select(known => known.Probe)];
        foreach (var (probe, at) in past.Heard)
        {
            Reach(byProbe, probe.Text, at);
        }

        foreach (var batch in facts.Batches.Select(watched => watched.Batch).Where(batch => batch.EndedAt is not { } ended || ended > from))
        {
            ReachForBatch(batch, Instant.Max(batch.SownAt, now - BatchMax));
        }

        foreach (var alert in stored.Where(alert => alert.IsOpen || alert.ClosedAt > from))
        {
            ReachForAlert(alert, facts, alert.Since - Learning);
        }
    }

    /// <summary>From when on a probe's readings count at a location.</summary>
    public Instant Of(Location location, ProbeId probe) => Instant.Min(
        Instant.Min(ofAll, byProbe.GetValueOrDefault(probe.Text, ofAll)),
        location.Spot is { } spot ? bySpot.GetValueOrDefault(spot, ofAll) : ofAll);

    /// <summary>From when on silence of each probe at a location proves anything: what it said before is not read again. One that never
    /// spoke has been silent from the beginning. It holds nothing of the past that is read, since the watch keeps it.</summary>
    public Func<ProbeId, Moment> SilenceOf(Location location) =>
        probe => heard.Contains(probe) ? Moment.Of(Of(location, probe)) : Moment.Beginning;

    private void ReachForBatch(Batch batch, Instant at)
    {
        foreach (var stay in batch.Stays)
        {
            Reach(bySpot, stay.Spot, at);
        }
    }

    private void ReachForAlert(Alert alert, HomeFacts facts, Instant at)
    {
        switch (alert.Subject.Kind)
        {
            case SubjectKind.Spot:
                Reach(bySpot, new(alert.Subject.Name), at);
                break;
            case SubjectKind.Probe:
                Reach(byProbe, alert.Subject.Name, at);
                break;
            case SubjectKind.Batch when facts.Batches.FirstOrDefault(watched => watched.Batch.Id.Text == alert.Subject.Name) is { } watched:
                ReachForBatch(watched.Batch, at);
                break;
            case SubjectKind.Home:
                ofAll = Instant.Min(ofAll, at);
                break;
            default:
                break;
        }
    }

    private static void Reach<T>(Dictionary<T, Instant> known, T key, Instant at)
        where T : notnull =>
        known[key] = known.TryGetValue(key, out var before) ? Instant.Min(before, at) : at;
}
