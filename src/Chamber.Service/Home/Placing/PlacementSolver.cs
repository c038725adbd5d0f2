using Chamber.Core.Spots;
using Google.OrTools.Sat;

namespace Chamber.Service.Home.Placing;

/// <summary>Something that wants a spot.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Containers">How much of a spot's room it takes, at least 1.</param>
/// <param name="Costs">What each spot would cost it.</param>
internal sealed record Placeable(string Name, int Containers, IReadOnlyList<PlacementCost> Costs);

/// <summary>Where it goes.</summary>
/// <param name="Item">What was placed.</param>
/// <param name="Cost">The spot with its cost; null when there was no room for it.</param>
/// <param name="NextBest">Its next best spot, when all others may move too; null when there is none.</param>
/// <param name="NextBestCosts">How many days more all of them together would then lose.</param>
internal sealed record PlacedItem(Placeable Item, PlacementCost? Cost, SpotId? NextBest, double? NextBestCosts);

/// <summary>
/// Least expected delay and loss in all, within the room of each spot: an assignment with capacities, solved exactly by CP-SAT
/// (Perron and Furnon, OR-Tools). Costs are counted in hundredths of a day, since the solver counts whole numbers.
/// </summary>
internal static class PlacementSolver
{
    /// <summary>No home has more; beyond it the answer would take too long.</summary>
    public const int ItemsMax = 200;

    private const double Hundredths = 100;

    /// <summary>To stand nowhere costs more than any spot that is open, so it happens only for want of room.</summary>
    private const long Nowhere = 1_000_000;

    /// <summary>A home's placement is solved in milliseconds; the bound is there for a mistake.</summary>
    private const double SecondsMax = 10;

    public static IReadOnlyList<PlacedItem> Solve(IReadOnlyList<Placeable> items, IReadOnlyDictionary<SpotId, int> room)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(items.Count, ItemsMax);
        var best = Assign(items, room, null);
        return [.. items.Select((item, i) => best.Spots[i] is { } spot
            ? WithNextBest(items, room, best, i, spot)
            : new PlacedItem(item, null, null, null))];
    }

    private static PlacedItem WithNextBest(IReadOnlyList<Placeable> items, IReadOnlyDictionary<SpotId, int> room, Assignment best, int index, SpotId spot)
    {
        var without = Assign(items, room, (index, spot));
        var next = without.Spots[index];
        var extra = (without.Total - best.Total) / Hundredths;
        return new(items[index], items[index].Costs.Single(cost => cost.Spot == spot), next, next is null || extra >= Nowhere / Hundredths / 2 ? null : extra);
    }

    private static Assignment Assign(IReadOnlyList<Placeable> items, IReadOnlyDictionary<SpotId, int> room, (int Item, SpotId Spot)? forbidden)
    {
        var model = new CpModel();
        var open = Open(items, forbidden);
        var chosen = open.ConvertAll(pair => model.NewBoolVar(string.Empty));
        for (var i = 0; i < items.Count; i++)
        {
            model.AddAtMostOne(open.Zip(chosen).Where(pair => pair.First.Item == i).Select(pair => pair.Second));
        }

        foreach (var (spot, containers) in room)
        {
            var here = open.Zip(chosen).Where(pair => pair.First.Cost.Spot == spot).ToList();
            model.Add(LinearExpr.WeightedSum(here.Select(pair => pair.Second), here.Select(pair => (long)items[pair.First.Item].Containers)) <= containers);
        }

        // Minimising cost less the price of standing nowhere places whatever fits.
        model.Minimize(LinearExpr.WeightedSum(chosen, open.Select(pair => Whole(pair.Cost) - Nowhere)));
        var solver = new CpSolver { StringParameters = $"max_time_in_seconds:{SecondsMax},num_workers:1,random_seed:1" };
        var status = solver.Solve(model);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible))
        {
            throw new InvalidOperationException($"The solver found no placement ({status}).");
        }

        var spots = new SpotId?[items.Count];
        foreach (var (pair, variable) in open.Zip(chosen))
        {
            if (solver.BooleanValue(variable))
            {
                spots[pair.Item] = pair.Cost.Spot;
            }
        }

        return new(spots, (long)solver.ObjectiveValue + Nowhere * items.Count);
    }

    private static List<(int Item, PlacementCost Cost)> Open(IReadOnlyList<Placeable> items, (int Item, SpotId Spot)? forbidden) =>
        [.. from item in Enumerable.Range(0, items.Count)
            from cost in items[item].Costs
            where cost.Days is not null && !(forbidden is { } not && not.Item == item && not.Spot == cost.Spot)
            select (item, cost)];

    private static long Whole(PlacementCost cost) => (long)Math.Min(Math.Round(cost.Days!.Value * Hundredths), Nowhere / 4);

    private sealed record Assignment(SpotId?[] Spots, long Total);
}
