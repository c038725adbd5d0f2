using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>What the rest of the home does in an hour, as a spot sees it: the median of how far the other spots lie off their own
/// usual.</summary>
internal sealed class OtherSpots
{
    // Of one alone it could not be told which of the two has moved.
    private const int CountMin = 2;

    private readonly List<(SpotId Spot, double Off)> spots = [];
    private int probes;

    /// <summary>Counts a probe; those of one spot come one after the other, and count as one.</summary>
    /// <param name="spot">Where it stands.</param>
    /// <param name="off">K off its own usual.</param>
    public void Add(SpotId spot, double off)
    {
        if (spots.Count > 0 && spots[^1].Spot == spot)
        {
            probes++;
            spots[^1] = (spot, spots[^1].Off + (off - spots[^1].Off) / probes);
            return;
        }

        probes = 1;
        spots.Add((spot, off));
    }

    /// <summary>To be called when all are there.</summary>
    public void Sort() => spots.Sort((one, other) => one.Off.CompareTo(other.Off));

    /// <summary>What the others than this spot do, K; null where there are too few.</summary>
    public double? Than(SpotId spot)
    {
        var own = spots.FindIndex(known => known.Spot == spot);
        var count = own < 0 ? spots.Count : spots.Count - 1;
        return count < CountMin ? null : count % 2 == 1 ? At(count / 2, own) : (At(count / 2 - 1, own) + At(count / 2, own)) / 2;
    }

    private double At(int rank, int own) => spots[own >= 0 && rank >= own ? rank + 1 : rank].Off;
}
