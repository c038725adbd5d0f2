using Chamber.Core.Crops;
using Chamber.Core.Spots;

namespace Chamber.Core.Forecasts.Together;

/// <summary>
/// What one ended batch has shown, as a home gives it to others: no name of its own, no day, and no more than a normal distribution of
/// each thing that was seen.
/// </summary>
/// <param name="Crop">Which crop, of those that come with Chamber.</param>
/// <param name="HalfWarmHours">What the table says of it, °C·h: what <see cref="Speed"/> is stated against.</param>
/// <param name="BaseCelsius">The table's base, °C.</param>
/// <param name="Method">How it was sown.</param>
public sealed record BatchExperience(CropId Crop, double HalfWarmHours, double BaseCelsius, SowingMethod Method)
{
    /// <summary>What kind of spot it stood on; null where that is not known.</summary>
    public SpotKind? Spot { get; init; }

    /// <summary>Whole years of the seed's age; null where that is not known.</summary>
    public int? SeedYears { get; init; }

    /// <summary>A number that batches of one lot share within a home and that says nothing else; null where the lot is not known.</summary>
    public int? Lot { get; init; }

    /// <summary>By how much ln of its warm-hours changes for each kelvin of the crop's base, 1/K.</summary>
    public double PerBaseKelvin { get; init; }

    /// <summary>How much longer it took than the table says, ln of the warm-hours to half.</summary>
    public Said Speed { get; init; }
}

/// <summary>What looks have shown of one number, as a normal distribution.</summary>
/// <param name="Shift">Its mean, beside what the table says.</param>
/// <param name="Doubt">Its standard deviation, above 0.</param>
public readonly record struct Said(double Shift, double Doubt);

/// <summary>What one home gives.</summary>
/// <param name="Home">A random name that the home has for this alone, so that its share can be replaced and taken back.</param>
/// <param name="Batches">Its ended batches.</param>
public sealed record HomeExperience(string Home, IReadOnlyList<BatchExperience> Batches);
