namespace Chamber.Core.Crops;

/// <summary>Under which water potential seed of a crop makes no progress.</summary>
/// <param name="Megapascals">Of the middle seed, MPa, below 0.</param>
/// <param name="Deviation">How unsure that is, MPa: standard deviation.</param>
/// <param name="IsMeasured">Whether it was measured of this crop or its genus; otherwise it is onion's, an assumption.</param>
/// <param name="Source">Where it is from.</param>
public sealed record BaseWater(double Megapascals, double Deviation, bool IsMeasured, string Source)
{
    private static readonly Dictionary<string, BaseWater> Known = CsvTable.Embedded("water-bases.csv").Rows.ToDictionary(
        row => row.Text("botanical"),
        row => new BaseWater(
            row.Number("middle_mpa"), row.Number("deviation_mpa"), row.Text("basis") == "measured", row.Text("source")));

    /// <summary>Of any crop of which nothing was found.</summary>
    public static BaseWater Assumed => Known[""];

    /// <summary>By species, then by genus, then what is assumed.</summary>
    public static BaseWater Of(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return Known.GetValueOrDefault(crop.BotanicalName) ?? Known.GetValueOrDefault(crop.BotanicalName.Split(' ')[0]) ?? Assumed;
    }
}
