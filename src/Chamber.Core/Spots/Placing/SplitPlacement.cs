namespace Chamber.Core.Spots.Placing;

/// <summary>
/// The cheapest placement when the containers of one item may stand on several spots: a transportation problem, solved by cheapest
/// augmenting paths, one item after another (R. G. Busacker and P. J. Gowen 1961; Ahuja, Magnanti and Orlin, Network Flows, 1993, 9.7).
/// No placement that keeps items whole can be cheaper.
/// </summary>
internal sealed class SplitPlacement
{
    /// <summary>A path must be cheaper by more than the rounding of sums.</summary>
    private const double Rounding = 1e-7;

    private readonly PlacementProblem problem;
    private readonly bool[,] open;
    private readonly int[,] standing;
    private readonly int[] free;
    private readonly double[] distance;
    private readonly (int From, int Item)[] step;
    private readonly (double Cost, int Item)[,] moves;

    private SplitPlacement(PlacementProblem problem, bool[,] open)
    {
        (this.problem, this.open) = (problem, open);
        standing = new int[problem.Containers.Count, problem.Room.Count];
        free = [.. problem.Room];
        distance = new double[free.Length];
        step = new (int, int)[free.Length];
        moves = new (double, int)[free.Length, free.Length];
    }

    /// <summary>What all of it costs, in hundredths of a day.</summary>
    public double Cost { get; private set; }

    /// <summary>The placement, or null when not all items find room among the spots that are open to them.</summary>
    public static SplitPlacement? Of(PlacementProblem problem, bool[,] open)
    {
        var placement = new SplitPlacement(problem, open);
        for (var item = 0; item < problem.Containers.Count; item++)
        {
            if (!placement.Place(item))
            {
                return null;
            }
        }

        return placement;
    }

    /// <summary>The spot with most of an item's containers.</summary>
    public int MostOf(int item)
    {
        var most = 0;
        for (var spot = 1; spot < free.Length; spot++)
        {
            most = standing[item, spot] > standing[item, most] ? spot : most;
        }

        return most;
    }

    /// <summary>The first item of the most containers that is not whole; null when all are.</summary>
    public int? Split()
    {
        int? split = null;
        for (var item = 0; item < problem.Containers.Count; item++)
        {
            var isWhole = standing[item, MostOf(item)] == problem.Containers[item];
            if (!isWhole && (split is not { } other || problem.Containers[item] > problem.Containers[other]))
            {
                split = item;
            }
        }

        return split;
    }

    private bool Place(int item)
    {
        for (var left = problem.Containers[item]; left > 0;)
        {
            if (CheapestEnd(item) is not { } end)
            {
                return false;
            }

            var amount = Math.Min(left, free[end]);
            for (var spot = end; step[spot].From >= 0; spot = step[spot].From)
            {
                amount = Math.Min(amount, standing[step[spot].Item, step[spot].From]);
            }

            Move(item, end, amount);
            left -= amount;
        }

        return true;
    }

    private void Move(int item, int end, int amount)
    {
        Cost += amount * distance[end];
        free[end] -= amount;
        var spot = end;
        for (; step[spot].From >= 0; spot = step[spot].From)
        {
            standing[step[spot].Item, spot] += amount;
            standing[step[spot].Item, step[spot].From] -= amount;
        }

        standing[item, spot] += amount;
    }

    /// <summary>The spot with free room that is cheapest to reach, directly or by moving others on (Bellman and Ford).</summary>
    private int? CheapestEnd(int item)
    {
        for (var spot = 0; spot < free.Length; spot++)
        {
            distance[spot] = open[item, spot] ? Each(item, spot) : double.PositiveInfinity;
            step[spot] = (-1, item);
        }

        FindMoves();
        while (Shorten())
        {
        }

        int? best = null;
        for (var spot = 0; spot < free.Length; spot++)
        {
            if (free[spot] > 0 && double.IsFinite(distance[spot]) && (best is not { } other || distance[spot] < distance[other] - Rounding))
            {
                best = spot;
            }
        }

        return best;
    }

    /// <summary>For every two spots the item that is cheapest to move from the one to the other.</summary>
    private void FindMoves()
    {
        for (var from = 0; from < free.Length; from++)
        {
            for (var to = 0; to < free.Length; to++)
            {
                moves[from, to] = (double.PositiveInfinity, -1);
            }

            for (var mover = 0; mover < problem.Containers.Count; mover++)
            {
                for (var to = 0; standing[mover, from] > 0 && to < free.Length; to++)
                {
                    var more = open[mover, to] && to != from ? Each(mover, to) - Each(mover, from) : double.PositiveInfinity;
                    moves[from, to] = more < moves[from, to].Cost ? (more, mover) : moves[from, to];
                }
            }
        }
    }

    private bool Shorten()
    {
        var isShorter = false;
        for (var from = 0; from < free.Length; from++)
        {
            for (var to = 0; to < free.Length; to++)
            {
                var reached = distance[from] + moves[from, to].Cost;
                if (reached < distance[to] - Rounding)
                {
                    (distance[to], step[to], isShorter) = (reached, (from, moves[from, to].Item), true);
                }
            }
        }

        return isShorter;
    }

    private double Each(int item, int spot) => (double)problem.Cost(item, spot)!.Value / problem.Containers[item];
}
