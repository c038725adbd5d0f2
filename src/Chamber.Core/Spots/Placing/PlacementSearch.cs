namespace Chamber.Core.Spots.Placing;

/// <summary>A placement with every item whole.</summary>
/// <param name="Spots">The spot of each item by its index; the last one is nowhere.</param>
/// <param name="Cost">What all of it costs, in hundredths of a day.</param>
internal sealed record WholePlacement(IReadOnlyList<int> Spots, long Cost);

/// <summary>
/// The cheapest placement of more items than a table holds: branch and bound (A. H. Land and A. G. Doig, Econometrica 28, 1960), where the
/// bound lets items be split. Where nothing takes more than one container the bound is the answer itself.
/// </summary>
internal sealed class PlacementSearch
{
    private const double Rounding = 1e-6;

    private readonly PlacementProblem problem;
    private readonly int branchesMax;
    private WholePlacement? best;
    private int branches;

    private PlacementSearch(PlacementProblem problem, int branchesMax) => (this.problem, this.branchesMax) = (problem, branchesMax);

    /// <summary>The cheapest placement on the spots that are open, or the best that so many branches show.</summary>
    public static WholePlacement Best(PlacementProblem problem, bool[,] open, int branchesMax)
    {
        var search = new PlacementSearch(problem, branchesMax);
        search.Look(open);
        return search.best!;
    }

    private void Look(bool[,] open)
    {
        if ((best is not null && ++branches > branchesMax)
            || SplitPlacement.Of(problem, open) is not { } bound
            || (best is { } known && Math.Ceiling(bound.Cost - Rounding) >= known.Cost))
        {
            return;
        }

        if (bound.Split() is not { } item)
        {
            best = Whole(bound);
            return;
        }

        var spot = bound.MostOf(item);
        Look(With(open, item, other => other == spot));
        Look(With(open, item, other => other != spot && open[item, other]));
    }

    private WholePlacement Whole(SplitPlacement placement)
    {
        int[] spots = [.. Enumerable.Range(0, problem.Containers.Count).Select(placement.MostOf)];
        return new(spots, spots.Select((spot, item) => problem.Cost(item, spot)!.Value).Sum());
    }

    private static bool[,] With(bool[,] open, int item, Func<int, bool> isOpen)
    {
        var changed = (bool[,])open.Clone();
        for (var spot = 0; spot < open.GetLength(1); spot++)
        {
            changed[item, spot] = isOpen(spot);
        }

        return changed;
    }
}
