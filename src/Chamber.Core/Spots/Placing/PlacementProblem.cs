namespace Chamber.Core.Spots.Placing;

/// <summary>
/// A placement as numbers: items and spots by index, costs in hundredths of a day. The last spot is to stand nowhere: it has room for
/// all and costs more than any other, so that it is taken only for want of room.
/// </summary>
internal sealed class PlacementProblem
{
    public const long Nowhere = 1_000_000;

    /// <summary>However dear a spot is, two of them cost less than one item that stands nowhere.</summary>
    private const long CostMax = Nowhere / 4;

    private const double Hundredths = 100;

    private readonly long?[,] costs;

    public PlacementProblem(IReadOnlyList<Placeable> items, IReadOnlyDictionary<SpotId, int> room)
    {
        Spots = [.. room.Keys];
        Containers = [.. items.Select(item => item.Containers)];
        Room = [.. room.Values, Containers.Sum()];
        costs = new long?[items.Count, Room.Count];
        var index = Spots.Select((spot, i) => (spot, i)).ToDictionary(pair => pair.spot, pair => pair.i);
        for (var item = 0; item < items.Count; item++)
        {
            costs[item, Spots.Count] = Nowhere;
            foreach (var cost in items[item].Costs)
            {
                if (cost.Days is { } days && index.TryGetValue(cost.Spot, out var spot))
                {
                    costs[item, spot] = (long)Math.Min(Math.Round(days * Hundredths), CostMax);
                }
            }
        }
    }

    /// <summary>The spots, without nowhere.</summary>
    public IReadOnlyList<SpotId> Spots { get; }

    /// <summary>What each item takes.</summary>
    public IReadOnlyList<int> Containers { get; }

    /// <summary>What each spot has, nowhere last.</summary>
    public IReadOnlyList<int> Room { get; }

    /// <summary>What an item costs on a spot; null when it must not stand there.</summary>
    public long? Cost(int item, int spot) => costs[item, spot];

    /// <summary>Which spots are open to each item.</summary>
    public bool[,] Open()
    {
        var open = new bool[Containers.Count, Room.Count];
        for (var item = 0; item < Containers.Count; item++)
        {
            for (var spot = 0; spot < Room.Count; spot++)
            {
                open[item, spot] = costs[item, spot] is not null && Containers[item] <= Room[spot];
            }
        }

        return open;
    }

    /// <summary>Hundredths as days.</summary>
    public static double Days(long hundredths) => hundredths / Hundredths;
}
