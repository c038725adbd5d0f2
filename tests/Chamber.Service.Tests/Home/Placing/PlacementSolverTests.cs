using Chamber.Core.Spots;
using Chamber.Service.Home.Placing;

namespace Chamber.Service.Tests.Home.Placing;

public class PlacementSolverTests
{
    private static readonly SpotId[] Spots = [new("cupboard"), new("mat"), new("shelf")];

    [Fact]
    public void The_best_for_all_is_not_the_best_for_each()
    {
        // Both want the cupboard most, which has room for one; the mat costs the first 1 day and the second 6.
        var placed = PlacementSolver.Solve([Item("tomato", 1, 0, 1, 4), Item("pepper", 1, 0, 6, 9)], Room(1, 1, 1));
        Assert.Equal(["mat", "cupboard"], placed.Select(one => one.Cost!.Spot.Text));
        Assert.Equal(3, placed[0].NextBestCosts!.Value, 1e-9);
    }

    [Fact]
    public void What_must_not_go_anywhere_stays_out_and_large_ones_take_their_room()
    {
        var placed = PlacementSolver.Solve([Item("celery", 1, null, null, null), Item("tomato", 2, 0, 3, 5), Item("basil", 1, 0, 2, 9)], Room(2, 1, 0));
        Assert.Null(placed[0].Cost);
        Assert.Equal("cupboard", placed[1].Cost!.Spot.Text);
        Assert.Equal("mat", placed[2].Cost!.Spot.Text);
        Assert.Null(placed[1].NextBest);
    }

    [Fact]
    public void No_way_of_placing_is_better_on_five_hundred_homes()
    {
        // Every way of placing is tried by brute force; the solver must never be beaten.
        var random = new Random(20270301);
        for (var home = 0; home < 500; home++)
        {
            var items = Enumerable.Range(0, random.Next(1, 6)).Select(i => Item($"item{i}", random.Next(1, 3), Draw(random), Draw(random), Draw(random))).ToList();
            var room = Room(random.Next(0, 4), random.Next(0, 4), random.Next(0, 4));
            var placed = PlacementSolver.Solve(items, room);
            Assert.Equal(BruteForce(items, room), Price(placed.Select(one => one.Cost)), 0.01);
        }
    }

    private static double? Draw(Random random) => random.Next(4) == 0 ? null : random.Next(0, 2000) / 100.0;

    private static Placeable Item(string name, int containers, params double?[] days) =>
        new(name, containers, [.. days.Select((cost, i) => new PlacementCost(Spots[i], cost, "why"))]);

    private static Dictionary<SpotId, int> Room(params int[] room) => room.Select((containers, i) => (Spots[i], containers)).ToDictionary();

    private static double Price(IEnumerable<PlacementCost?> costs) => costs.Sum(cost => cost?.Days ?? 10_000);

    private static double BruteForce(List<Placeable> items, Dictionary<SpotId, int> room, int index = 0)
    {
        if (index == items.Count)
        {
            return 0;
        }

        var best = 10_000 + BruteForce(items, room, index + 1);
        foreach (var cost in items[index].Costs.Where(cost => cost.Days is not null && room[cost.Spot] >= items[index].Containers))
        {
            room[cost.Spot] -= items[index].Containers;
            best = Math.Min(best, cost.Days!.Value + BruteForce(items, room, index + 1));
            room[cost.Spot] += items[index].Containers;
        }

        return best;
    }
}
