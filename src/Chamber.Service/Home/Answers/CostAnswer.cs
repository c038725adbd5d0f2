using Chamber.Core.Plans;

namespace Chamber.Service.Home.Answers;

/// <summary>What it costs, for programs.</summary>
internal sealed record CostAnswer(
    decimal Seed, decimal Mix, decimal Heat, decimal Containers, decimal Total, decimal EachPlant, double KilowattHours,
        decimal? BoughtEach, decimal? Saved)
{
    public static CostAnswer Of(Outlay outlay, int plants, decimal? boughtEach)
    {
        var cost = PlantCost.Of(outlay, plants);
        return new(
            Cents(cost.Seed), Cents(cost.Mix), Cents(cost.Heat), Cents(cost.Containers), Cents(cost.Total), Cents(cost.EachPlant ?? 0),
            PlantCost.KilowattHours(outlay.Watts, outlay.Hours),
            boughtEach,
            boughtEach is { } each ? Cents(cost.Saved(each)) : null);
    }

    private static decimal Cents(decimal amount) => Math.Round(amount, 2, MidpointRounding.AwayFromZero);
}
