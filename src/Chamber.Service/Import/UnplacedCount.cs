using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Import;

/// <summary>Readings of a file from when their probe stood nowhere: they count for no spot.</summary>
/// <param name="Probe">Whose.</param>
/// <param name="Count">How many.</param>
/// <param name="First">When the first of them was read.</param>
/// <param name="Last">When the last was.</param>
/// <param name="Spot">Where it stood next after the first, or else before; null when it has never stood anywhere.</param>
internal sealed record UnplacedProbe(ProbeId Probe, long Count, Instant First, Instant Last, SpotId? Spot);

/// <summary>Counts them while a file is taken in.</summary>
internal sealed class UnplacedCount(IReadOnlyList<Station> stations)
{
    private readonly Dictionary<ProbeId, List<Station>> stationsOf = stations.GroupBy(station => station.Probe)
        .ToDictionary(group => group.Key, group => group.ToList());
    private readonly Dictionary<ProbeId, (long Count, Instant First, Instant Last)> found = [];

    public void Take(Reading reading)
    {
        var at = reading.MeasuredAt;
        if (stationsOf.TryGetValue(reading.Probe, out var stood) && stood.Exists(station => station.When.Contains(at)))
        {
            return;
        }

        found[reading.Probe] = found.TryGetValue(reading.Probe, out var so)
            ? (so.Count + 1, Instant.Min(so.First, at), Instant.Max(so.Last, at))
            : (1, at, at);
    }

    public IReadOnlyList<UnplacedProbe> Found() =>
    [
        .. from probe in found
           orderby probe.Key.Text
           select new UnplacedProbe(probe.Key, probe.Value.Count, probe.Value.First, probe.Value.Last,
               SpotNear(probe.Key, probe.Value.First)),
    ];

    private SpotId? SpotNear(ProbeId probe, Instant first) => stationsOf.TryGetValue(probe, out var stood)
        ? (stood.Find(station => station.When.HasStart && station.When.Start > first) ?? stood[^1]).Spot
        : null;
}
