namespace Chamber.Core.Crops;

/// <summary>The botanical family of a genus (Angiosperm Phylogeny Group IV, 2016, from memory).</summary>
internal static class CropFamilies
{
    private static readonly Dictionary<string, string> Families =
        CsvTable.Embedded("families.csv").Rows.ToDictionary(row => row.Text("genus"), row => row.Text("family"));

    /// <summary>The family of a crop whose numbers are the catalog's; null for one of the user's own numbers, and for a genus that is not
    /// in the table.</summary>
    public static string? Of(Crop crop) =>
        crop.Profile.Origin == ProfileOrigin.Own ? null : Families.GetValueOrDefault(crop.BotanicalName.Split(' ')[0]);
}
