namespace Chamber.Core.Plans;

/// <summary>What raising plants takes, for their cost. Money is in the home's own currency; absent parts cost nothing.</summary>
public sealed record Outlay
{
    /// <summary>Seeds sown.</summary>
    public required int Seeds { get; init; }

    /// <summary>Price of one seed.</summary>
    public decimal SeedPrice { get; init; }

    /// <summary>Litres of mix in all.</summary>
    public double MixLitres { get; init; }

    /// <summary>Price of a litre of mix.</summary>
    public decimal MixPrice { get; init; }

    /// <summary>Power of a mat, a lamp or both, W.</summary>
    public double Watts { get; init; }

    /// <summary>Hours that it really runs.</summary>
    public double Hours { get; init; }

    /// <summary>Price of a kWh.</summary>
    public decimal KilowattHourPrice { get; init; }

    /// <summary>Price of pots and trays, spread over the seasons they last.</summary>
    public decimal Containers { get; init; }
}

/// <summary>What a raised plant costs, against a bought one.</summary>
/// <param name="Seed">For seed.</param>
/// <param name="Mix">For mix.</param>
/// <param name="Heat">For electricity.</param>
/// <param name="Containers">For pots and trays.</param>
/// <param name="Plants">Plants it is shared by: those planted out, not those sown.</param>
public sealed record PlantCost(decimal Seed, decimal Mix, decimal Heat, decimal Containers, int Plants)
{
    public decimal Total => Seed + Mix + Heat + Containers;

    /// <summary>For one plant; null when none was raised.</summary>
    public decimal? EachPlant => Plants > 0 ? Total / Plants : null;

    /// <summary>kWh = W × h / 1000.</summary>
    public static double KilowattHours(double watts, double hours) => watts * hours / 1000;

    public static PlantCost Of(Outlay outlay, int plants)
    {
        ArgumentNullException.ThrowIfNull(outlay);
        return new(
            outlay.Seeds * outlay.SeedPrice,
            (decimal)outlay.MixLitres * outlay.MixPrice,
            (decimal)KilowattHours(outlay.Watts, outlay.Hours) * outlay.KilowattHourPrice,
            outlay.Containers,
            plants);
    }

    /// <summary>What was saved against buying as many plants at a price; negative when buying was cheaper.</summary>
    public decimal Saved(decimal boughtEach) => Plants * boughtEach - Total;
}
