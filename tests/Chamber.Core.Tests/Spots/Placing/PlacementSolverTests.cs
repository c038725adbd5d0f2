using System.Globalization;
using Chamber.Core.Spots;
using Chamber.Core.Spots.Placing;
using Chamber.Testing;

namespace Chamber.Core.Tests.Spots.Placing;

/// <summary>Against every way of placing, tried one by one, and against SciPy's solver of whole-number programs; homes are drawn.</summary>
public sealed class PlacementSolverTests
{
    private const double Nowhere = 10_000;

    private static readonly SpotId[] Spots = [.. Enumerable.Range(1, 6).Select(i => new SpotId($"spot-{i}"))];

    [Fact]
    public void The_best_for_all_is_not_the_best_for_each()
    {
        // Both want the first spot most, which has room for one; the second costs the first item 1 day and the other 6.
        var placed = PlacementSolver.Solve([Item("tomato", 1, 0, 1, 4), Item("pepper", 1, 0, 6, 9)], Room(1, 1, 1));
        Assert.Equal(["spot-2", "spot-1"], placed.Select(one => one.Cost!.Spot.Text));
        Assert.Equal(3, placed[0].NextBestCosts!.Value, 1e-9);
    }

    [Fact]
    public void What_must_not_go_anywhere_stays_out_and_large_ones_take_their_room()
    {
        var placed = PlacementSolver.Solve([Item("celery", 1, null, null, null), Item("tomato", 2, 0, 3, 5), Item("basil", 1, 0, 2, 9)],
            Room(2, 1, 0));
        Assert.Null(placed[0].Cost);
        Assert.Equal("spot-1", placed[1].Cost!.Spot.Text);
        Assert.Equal("spot-2", placed[2].Cost!.Spot.Text);
        Assert.Null(placed[1].NextBest);
    }

    [Fact]
    public void Moving_others_on_makes_room_for_one_more()
    {
        // Only the first spot takes the third item, and it is full of two that can go elsewhere at a price.
        var placed = PlacementSolver.Solve([Item("a", 1, 0, 5, null), Item("b", 1, 0, null, 7), Item("c", 1, 1, null, null)],
            Room(2, 1, 1));
        Assert.Equal(["spot-2", "spot-1", "spot-1"], placed.Select(one => one.Cost!.Spot.Text));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void No_way_of_placing_is_better_on_five_hundred_homes(int sizeMax)
    {
        var random = new Random(20270301 + sizeMax);
        for (var home = 0; home < 500; home++)
        {
            var spots = random.Next(2, 5);
            var items = Draw(random, random.Next(1, 7), spots, sizeMax);
            var room = Room([.. Enumerable.Range(0, spots).Select(_ => random.Next(0, 4))]);
            AssertAsGoodAsAny(items, room);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(4)]
    public void No_way_of_placing_a_dozen_is_better(int sizeMax)
    {
        var random = new Random(12 + sizeMax);
        for (var home = 0; home < 4; home++)
        {
            var items = Draw(random, 12, 4, sizeMax);
            AssertAsGoodAsAny(items, Room([.. Enumerable.Range(0, 4).Select(_ => random.Next(1, 2 + 3 * sizeMax))]));
        }
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task SciPy_finds_nothing_better_for_a_dozen_on_six_spots()
    {
        // scipy.optimize.milp: HiGHS, branch and cut.
        var random = new Random(2027);
        var homes = Enumerable.Range(0, 12)
            .Select(home => (Items: Draw(random, 12, 6, 1 + home % 4),
            Room: Room([.. Enumerable.Range(0, 6).Select(_ => random.Next(1, 6))]))).ToList();
        var theirs =
            (await Oracle.SciPy("import numpy as np\nfrom scipy.optimize import milp, LinearConstraint, Bounds\n"
            + string.Concat(homes.Select(home => Program(home.Items, home.Room)))))
            .Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(text => double.Parse(text, CultureInfo.InvariantCulture));
        Assert.All(homes.Zip(theirs), pair =>
            Assert.Equal(pair.Second, Price(PlacementSolver.Solve(pair.First.Items, pair.First.Room).Select(one => one.Cost)), 0.01));
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Two_hundred_of_one_container_are_placed_within_the_room()
    {
        var random = new Random(200);
        var items = Draw(random, PlacementSolver.ItemsMax, 6, 1);
        var room = Room(20, 40, 10, 0, 60, 30);
        var placed = PlacementSolver.Solve(items, room);
        Assert.All(placed.Where(one => one.Cost is not null).CountBy(one => one.Cost!.Spot),
            used => Assert.InRange(used.Value, 0, room[used.Key]));
        Assert.Equal(160, placed.Count(one => one.Cost is not null));
        Assert.Throws<ArgumentOutOfRangeException>(() => PlacementSolver.Solve([.. items, items[0]], room));
    }

    private static void AssertAsGoodAsAny(Placeable[] items, Dictionary<SpotId, int> room)
    {
        var placed = PlacementSolver.Solve(items, room);
        var best = Cheapest(items, room);
        Assert.Equal(best, Price(placed.Select(one => one.Cost)), 0.01);
        Assert.All(placed.Zip(items).Where(pair => pair.First.Cost is not null).GroupBy(pair => pair.First.Cost!.Spot),
            here => Assert.True(here.Sum(pair => pair.Second.Containers) <= room[here.Key]));
        foreach (var (one, index) in placed.Select((one, index) => (one, index)).Where(pair => pair.one.NextBestCosts is not null))
        {
            var elsewhere = items.ToArray();
            elsewhere[index] =
                items[index] with { Costs = [
                .. items[index].Costs.Select(cost => cost.Spot == one.Cost!.Spot ? cost with { Days = null } : cost)] };
            Assert.Equal(Cheapest(elsewhere, room) - best, one.NextBestCosts!.Value, 0.01);
        }
    }

    private static Placeable[] Draw(Random random, int count, int spots, int sizeMax) =>
        [.. Enumerable.Range(0, count)
            .Select(i => Item($"item{i}", random.Next(1, sizeMax + 1),
            [.. Enumerable.Range(0, spots).Select(_ => random.Next(4) == 0 ? (double?)null : random.Next(0, 2000) / 100.0)]))];

    private static Placeable Item(string name, int containers, params double?[] days) =>
        new(name, containers, [.. days.Select((cost, i) => new PlacementCost(Spots[i], cost, "why"))]);

    private static Dictionary<SpotId, int> Room(params int[] room) => room.Select((containers, i) => (Spots[i], containers)).ToDictionary();

    private static double Price(IEnumerable<PlacementCost?> costs) => costs.Sum(cost => cost?.Days ?? Nowhere);

    /// <summary>Every way of placing; what the items from one on cost with so much room left is worked out once.</summary>
    private static double Cheapest(Placeable[] items, Dictionary<SpotId, int> room)
    {
        var known = new Dictionary<(int, string), double>();
        return From(0, room);

        double From(int index, Dictionary<SpotId, int> left)
        {
            var key = (index, string.Join(',', left.Values));
            if (index == items.Length || known.ContainsKey(key))
            {
                return index == items.Length ? 0 : known[key];
            }

            var best = Nowhere + From(index + 1, left);
            foreach (var cost in items[index].Costs.Where(cost => cost.Days is not null && left[cost.Spot] >= items[index].Containers))
            {
                best = Math.Min(best,
                    cost.Days!.Value + From(index + 1, new(left) { [cost.Spot] = left[cost.Spot] - items[index].Containers }));
            }

            return known[key] = best;
        }
    }

    /// <summary>The same as a program of zeros and ones: an item is on one spot or nowhere, and no spot holds more than its
    /// room.</summary>
    private static string Program(Placeable[] items, Dictionary<SpotId, int> room)
    {
        string Rows<T>(IEnumerable<T> rows) => "[" + string.Join(',', rows) + "]";
        var costs = Rows(
            items.Select(
            item => Rows([.. item.Costs.Select(cost => cost.Days?.ToString(CultureInfo.InvariantCulture) ?? "None"),
            Nowhere.ToString(CultureInfo.InvariantCulture)])));
        return $"""
            costs, sizes, room = {costs}, {Rows(items.Select(item => item.Containers))}, {Rows(room.Values)}
            n, m = len(costs), len(room) + 1
            open_ = np.array([[1.0 if c is not None else 0.0 for c in row] for row in costs]).ravel()
            price = np.array([[c if c is not None else 0.0 for c in row] for row in costs]).ravel()
            one = np.kron(np.eye(n), np.ones(m))
            fits = np.array([[sizes[i] if s == spot else 0 for i in range(n) for s in range(m)] for spot in range(m - 1)])
            found = milp(price, integrality=np.ones(n * m), bounds=Bounds(0, open_), options=dict(mip_rel_gap=0),
                         constraints=[LinearConstraint(one, 1, 1), LinearConstraint(fits, -np.inf, room)])
            print(found.fun)

            """;
    }
}
