using Chamber.Core.Plans;
using NodaTime;

namespace Chamber.Core.Tests.Plans;

/// <summary>Arithmetic by hand; prices and watts are invented.</summary>
public class PlantCostTests
{
    [Fact]
    public void A_mat_of_18_watts_for_a_fortnight_uses_6_kilowatt_hours() =>
        Assert.Equal(6.048, PlantCost.KilowattHours(18, 14 * 24), 1e-9);

    [Fact]
    public void The_cost_is_shared_by_the_plants_that_reach_the_garden()
    {
        var cost = PlantCost.Of(new() { Seeds = 19, SeedPrice = 0.10m, MixLitres = 3, MixPrice = 0.40m, Watts = 18, Hours = 336,
            KilowattHourPrice = 0.30m, Containers = 1m }, 12);
        Assert.Equal(1.90m + 1.20m + 6.048m * 0.30m + 1m, cost.Total);
        Assert.Equal(cost.Total / 12, cost.EachPlant);
        Assert.Equal(12 * 2.50m - cost.Total, cost.Saved(2.50m));
        Assert.Null(PlantCost.Of(new() { Seeds = 1 }, 0).EachPlant);
    }

    [Theory]
    [InlineData(20, 4, 5)]
    [InlineData(20, 3, 7)]
    [InlineData(0.3, 0.1, 3)]
    public void Plants_are_counted_back_from_the_harvest(double wanted, double each, int plants) =>
        Assert.Equal(plants, Harvest.Plants(wanted, each));

    [Fact]
    public void Seventy_plants_with_light_for_twenty_are_found_out_beforehand()
    {
        List<LitPots> plans =
        [
            new("tomato", 40, new(2027, 4, 5), new(2027, 5, 17)),
            new("cabbage", 30, new(2027, 3, 20), new(2027, 4, 20)),
        ];
        var weeks = LightRoom.Weeks(plans, 20);
        Assert.Equal(new LocalDate(2027, 3, 15), weeks[0].Week);
        Assert.Equal(70, weeks.Max(week => week.Pots));
        Assert.Equal(50, weeks.Max(week => week.Over));
        Assert.Equal(["tomato"], weeks[^1].Whose);
        Assert.Equal(new LocalDate(2027, 5, 10), weeks[^1].Week);
        Assert.Empty(LightRoom.Weeks([], 20));
    }
}
