using Chamber.Core.Crops;

namespace Chamber.Core.Seeds;

/// <summary>What a half-life rests on.</summary>
public enum LongevityBasis
{
    /// <summary>Measured in this species, over years at room temperature.</summary>
    Measured,

    /// <summary>Measured in other conditions or in a relative, and scaled.</summary>
    Scaled,

    /// <summary>Set from whether its kind is short-lived or long-lived: an assumption.</summary>
    Class,
}

/// <summary>How long half of a usual lot stays alive at 20 °C and 50 % of humidity.</summary>
/// <param name="HalfYears">Years from harvest until half of a usual lot has died there, positive.</param>
/// <param name="LogDeviation">How far lots lie from each other and from the truth: standard deviation of the natural logarithm.</param>
/// <param name="Basis">What it rests on.</param>
/// <param name="Source">Where it was read, in a sentence.</param>
public sealed record SeedLongevity(double HalfYears, double LogDeviation, LongevityBasis Basis, string Source)
{
    private const string AnyTaxon = "*";

    private static readonly Lazy<Dictionary<string, SeedLongevity>> LazyTable = new(Read);

    /// <summary>By species, else by genus, else the review of many species.</summary>
    public static SeedLongevity Of(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        var words = crop.BotanicalName.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var table = LazyTable.Value;
        return (words.Length > 1 ? table.GetValueOrDefault($"{words[0]} {words[1]}") : null)
            ?? (words.Length > 0 ? table.GetValueOrDefault(words[0]) : null)
            ?? table[AnyTaxon];
    }

    private static Dictionary<string, SeedLongevity> Read() =>
        CsvTable.Embedded("seed-longevity.csv").Rows
            .SelectMany(row => row.Text("taxa").Split(';').Select(taxon => (taxon, Longevity: Of(row))))
            .ToDictionary(pair => pair.taxon, pair => pair.Longevity, StringComparer.Ordinal);

    private static SeedLongevity Of(CsvRow row) => new(
        row.Number("half_years"),
        row.Number("log_deviation"),
        row.Text("basis") switch
        {
            "measured" => LongevityBasis.Measured,
            "scaled" => LongevityBasis.Scaled,
            _ => LongevityBasis.Class,
        },
        row.Text("source"));
}
