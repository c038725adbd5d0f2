using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Spots;

namespace Chamber.Storage.Seam;

/// <summary>What was measured on a spot last.</summary>
public static class LastOnSpot
{
    /// <summary>The newest temperature of the probes that stand there, media before air as in the spot's trace, corrected; null when none
    /// has spoken.</summary>
    /// <param name="home">What the facts come to.</param>
    /// <param name="spot">The spot.</param>
    /// <param name="latest">The newest of each probe.</param>
    public static Dated<Temperature>? Of(HomeParts home, SpotId spot, IReadOnlyDictionary<ProbeId, LatestReading> latest)
    {
        ArgumentNullException.ThrowIfNull(home);
        ArgumentNullException.ThrowIfNull(latest);
        var media = home.Probes.Where(entry => entry.Probe.Measurand == Measurand.Media).Select(entry => entry.Probe.Id).ToHashSet();
        return home.Stations.Where(station => station.Spot == spot && !station.When.HasEnd)
            .Select(station => (station.Probe, Last: latest.GetValueOrDefault(station.Probe)?.Temperature))
            .Where(known => known.Last is not null)
            .OrderBy(known => media.Contains(known.Probe) ? 0 : 1)
            .ThenByDescending(known => known.Last!.Value.At)
            .Select(known => (Dated<Temperature>?)Corrected(home, known.Probe, known.Last!.Value))
            .FirstOrDefault();
    }

    private static Dated<Temperature> Corrected(HomeParts home, ProbeId probe, Dated<Temperature> raw) =>
        home.Calibrations.LastOrDefault(one => one.Probe == probe && one.From <= raw.At) is { } calibration
            ? raw with { Value = raw.Value + calibration.Offset }
            : raw;
}
