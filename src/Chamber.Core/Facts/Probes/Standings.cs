using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>Where a probe stood: on one spot at a time.</summary>
internal static class Standings
{
    /// <summary>With one more.</summary>
    public static IReadOnlyList<Station> With(IReadOnlyList<Station> stations, Station added)
    {
        var other = stations.FirstOrDefault(one => Overlap(one.When, added.When));
        FactRefusedException.When(
            other is not null,
            $"Probe \"{added.Probe}\" stood on \"{other?.Spot}\" then (from {other?.When.Start}); a probe is on one spot at a time.",
            "spot");
        return BatchRules.Sorted(stations, added, one => one.When.Start);
    }

    /// <summary>Ends the stay that lasts.</summary>
    public static IReadOnlyList<Station> Left(IReadOnlyList<Station> stations, ProbeId probe, Instant at)
    {
        if (stations.FirstOrDefault(one => !one.When.HasEnd) is not { } open)
        {
            return stations;
        }

        FactRefusedException.When(
            at <= open.When.Start, $"Probe \"{probe}\" was put there at {open.When.Start}; it can only leave after that.", "at");
        return [.. stations.Select(one => one == open ? one with { When = new(one.When.Start, at) } : one)];
    }

    private static bool Overlap(Interval one, Interval other) =>
        (!other.HasEnd || one.Start < other.End) && (!one.HasEnd || one.End > other.Start);
}
