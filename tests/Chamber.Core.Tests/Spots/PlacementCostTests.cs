using Chamber.Core.Spots;

namespace Chamber.Core.Tests.Spots;

/// <summary>Arithmetic by hand of the cost that docs/arithmetic.md describes; the cost itself is the program's own.</summary>
public class PlacementCostTests
{
    private static readonly Spot Dark = new(new("cupboard"), SpotKind.BoilerCupboard, LightLevel.Dark, 2);
    private static readonly Spot Sill = new(new("sill"), SpotKind.Sill, LightLevel.Bright, 3);

    [Fact]
    public void The_fastest_spot_costs_nothing_and_the_other_its_delay()
    {
        var costs = PlacementCost.Of(Some.Crop("tomato"), [(Dark, new(5, 1)), (Sill, new(9, 1))]);
        Assert.Equal(0, costs[0].Days!.Value, 1e-9);
        Assert.Equal(4, costs[1].Days!.Value, 1e-9);
        Assert.Contains("4 days later than on its fastest spot", costs[1].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Loss_counts_as_the_days_to_start_again()
    {
        var costs = PlacementCost.Of(Some.Crop("tomato"), [(Dark, new(6, 0.75)), (Sill, new(6, 1))]);
        Assert.Equal(0.25 * 18, costs[0].Days!.Value, 1e-9);
    }

    [Fact]
    public void What_must_not_go_there_says_why()
    {
        var celery = PlacementCost.Of(Some.Crop("celery"), [(Dark, new(8, 1)), (Sill, new(12, 1))]);
        Assert.Null(celery[0].Days);
        Assert.Contains("needs light and cupboard is dark", celery[0].Why, StringComparison.Ordinal);
        Assert.Equal(0, celery[1].Days!.Value, 1e-9);
        var cooked = PlacementCost.Of(Some.Crop("lettuce"), [(Sill, new(3, 0.2)), (Dark, new(null, 1))]);
        Assert.All(cooked, cost => Assert.Null(cost.Days));
        Assert.Contains("lose 80 %", cooked[0].Why, StringComparison.Ordinal);
    }
}
