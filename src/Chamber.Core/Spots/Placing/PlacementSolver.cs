namespace Chamber.Core.Spots.Placing;

/// <summary>
/// Least expected delay and loss in all, within the room of each spot. Exact for a home (<see cref="PlacementTable"/>), and for any number
/// of items that take one container each (<see cref="PlacementSearch"/>).
/// </summary>
public static class PlacementSolver
{
    /// <summary>No home has more; beyond it the answer would take too long.</summary>
    public const int ItemsMax = 200;

    /// <summary>
    /// Where many large items fill every spot to the last container, the search ends here with the best that it found. It may then be days
    /// above the least, and the next best is looked for less hard.
    /// </summary>
    private const int BranchesMax = 2000;
    private const int BranchesOfNextBest = 100;

    /// <summary>Finds the spot of every item, and what its next best one would cost.</summary>
    /// <param name="items">At most <see cref="ItemsMax"/>.</param>
    /// <param name="room">How many containers each spot has room for, 0 or more.</param>
    public static IReadOnlyList<PlacedItem> Solve(IReadOnlyList<Placeable> items, IReadOnlyDictionary<SpotId, int> room)
    {
        ArgumentNullException.ThrowIfNull(items);
        ArgumentNullException.ThrowIfNull(room);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(items.Count, ItemsMax);
        var problem = new PlacementProblem(items, room);
        if (problem.Containers.Any(containers => containers > 1) && PlacementTable.Of(problem) is { } table)
        {
            var alternatives = table.Alternatives();
            return Placed(problem, items, table.Best(), (item, spot) => Cheapest(alternatives[item], spot));
        }

        return Placed(problem, items, PlacementSearch.Best(problem, problem.Open(), BranchesMax),
            (item, spot) => Searched(problem, item, spot));
    }

    private static PlacedItem[] Placed(PlacementProblem problem, IReadOnlyList<Placeable> items, WholePlacement best,
        Func<int, int, (int Spot, long Cost)> nextBest) =>
        [.. items.Select((item, i) => best.Spots[i] == problem.Spots.Count ? new(item, null, null, null)
            : Placed(problem, item, best, best.Spots[i], nextBest(i, best.Spots[i])))];

    private static PlacedItem Placed(PlacementProblem problem, Placeable item, WholePlacement best, int spot, (int Spot, long Cost) next)
    {
        SpotId? nextBest = next.Spot == problem.Spots.Count ? null : problem.Spots[next.Spot];
        var more = next.Cost - best.Cost;
        return new(
            item,
            item.Costs.Single(cost => cost.Spot == problem.Spots[spot]),
            nextBest,
            nextBest is null || more >= PlacementProblem.Nowhere / 2 ? null : PlacementProblem.Days(more));
    }

    /// <summary>The other spot, or nowhere, with which all together cost least.</summary>
    private static (int Spot, long Cost) Cheapest(long?[] costs, int not) =>
        costs.Select((cost, spot) => (Spot: spot, Cost: cost)).Where(one => one.Spot != not && one.Cost is not null)
            .Select(one => (one.Spot, one.Cost!.Value)).MinBy(one => one.Value);

    private static (int Spot, long Cost) Searched(PlacementProblem problem, int item, int not)
    {
        var open = problem.Open();
        open[item, not] = false;
        var without = PlacementSearch.Best(problem, open, BranchesOfNextBest);
        return (without.Spots[item], without.Cost);
    }
}
