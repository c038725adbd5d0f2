namespace Chamber.Core.Spots.Placing;

/// <summary>
/// Every way of placing, distinguished by the room that is taken on each spot: dynamic programming over the items (R. Bellman 1957).
/// It is exact whatever the sizes, and says of every item what each of its spots would cost all of them together.
/// </summary>
internal sealed class PlacementTable
{
    /// <summary>48 MB for as long as it is solved. A dozen batches on six spots with room for four each take a hundredth of it.</summary>
    private const int CellsMax = 12_000_000;

    private const int Never = int.MaxValue / 2;

    private readonly PlacementProblem problem;
    private readonly int[] room;
    private readonly int[] stride;
    private readonly int states;

    /// <summary>By item and by state: the least that all items before it cost when they take just that room.</summary>
    private readonly int[][] before;

    private PlacementTable(PlacementProblem problem, int[] room, int[] stride, int states)
    {
        (this.problem, this.room, this.stride, this.states) = (problem, room, stride, states);
        before = new int[problem.Containers.Count + 1][];
        before[0] = Row(Never);
        before[0][0] = 0;
        for (var item = 0; item < problem.Containers.Count; item++)
        {
            before[item + 1] = After(item);
        }
    }

    /// <summary>The table, or null when the problem is too large for one.</summary>
    public static PlacementTable? Of(PlacementProblem problem)
    {
        var all = problem.Containers.Sum();
        int[] room = [.. problem.Spots.Select((_, spot) => Math.Min(problem.Room[spot], all))];
        var stride = new int[room.Length];
        var states = 1L;
        for (var spot = 0; spot < room.Length; spot++)
        {
            stride[spot] = (int)states;
            states *= room[spot] + 1;
            if (states * problem.Containers.Count > CellsMax)
            {
                return null;
            }
        }

        return new(problem, room, stride, (int)states);
    }

    /// <summary>The cheapest placement.</summary>
    public WholePlacement Best()
    {
        var state = Array.IndexOf(before[^1], before[^1].Min());
        var cost = before[^1][state];
        var spots = new int[problem.Containers.Count];
        for (var item = spots.Length - 1; item >= 0; item--)
        {
            spots[item] = Enumerable.Range(0, room.Length + 1)
                .First(spot => Came(item, spot, state) is { } from
                && before[item][from] + problem.Cost(item, spot) == before[item + 1][state]);
            state = Came(item, spots[item], state)!.Value;
        }

        return new(spots, cost);
    }

    /// <summary>What all of them cost together when an item is on a spot: one row for each item, null where it must not
    /// stand.</summary>
    public long?[][] Alternatives()
    {
        var alternatives = new long?[problem.Containers.Count][];
        var after = Row(0);
        for (var item = problem.Containers.Count - 1; item >= 0; item--)
        {
            var now = Row(Never);
            var least = new int[room.Length + 1];
            Array.Fill(least, Never);
            for (var state = 0; state < states; state++)
            {
                for (var spot = 0; spot <= room.Length; spot++)
                {
                    if (Taken(item, spot, state) is { } next)
                    {
                        var rest = (int)problem.Cost(item, spot)!.Value + after[next];
                        now[state] = Math.Min(now[state], rest);
                        least[spot] = Math.Min(least[spot], Math.Min(Never, before[item][state] + rest));
                    }
                }
            }

            alternatives[item] = Array.ConvertAll(least, cost => cost < Never ? cost : (long?)null);
            after = now;
        }

        return alternatives;
    }

    private int[] After(int item)
    {
        var after = Row(Never);
        for (var state = 0; state < states; state++)
        {
            for (var spot = 0; spot <= room.Length && before[item][state] < Never; spot++)
            {
                if (Taken(item, spot, state) is { } next)
                {
                    after[next] = Math.Min(after[next], before[item][state] + (int)problem.Cost(item, spot)!.Value);
                }
            }
        }

        return after;
    }

    /// <summary>The state once an item is on a spot; null when it must not, or there is no room.</summary>
    private int? Taken(int item, int spot, int state)
    {
        if (spot == room.Length)
        {
            return state;
        }

        var taken = state / stride[spot] % (room[spot] + 1);
        return problem.Cost(item, spot) is not null && taken + problem.Containers[item] <= room[spot]
            ? state + problem.Containers[item] * stride[spot] : null;
    }

    /// <summary>The state from which placing an item on a spot led here.</summary>
    private int? Came(int item, int spot, int state)
    {
        if (spot == room.Length)
        {
            return state;
        }

        var taken = state / stride[spot] % (room[spot] + 1);
        return problem.Cost(item, spot) is not null && taken >= problem.Containers[item]
            ? state - problem.Containers[item] * stride[spot] : null;
    }

    private int[] Row(int value)
    {
        var row = new int[states];
        Array.Fill(row, value);
        return row;
    }
}
