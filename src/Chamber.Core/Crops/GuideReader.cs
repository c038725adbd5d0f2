using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>Reads how to sow and grow on from a row of the catalog.</summary>
internal static class GuideReader
{
    public static CropGuide Read(CsvRow row) => new()
    {
        Group = row.Text("group") switch
        {
            "veg" => CropGroup.Vegetable,
            "herb" => CropGroup.Herb,
            _ => CropGroup.Flower,
        },
        Aliases = row.Text("aliases").Split(';', StringSplitOptions.RemoveEmptyEntries),
        DepthMillimetres = row.Number("depth_mm"),
        LightNote = row.Text("light"),
        WeeksToPlantOut = Range(row, "weeks"),
        PlantOutWeeksAfterFrost = Range(row, "plantout"),
        TypicalDays = Range(row, "days"),
        HandbookBand = Band(row, "mix_low_c", "mix_high_c"),
        GrowerBand = Band(row, "grower_low_c", "grower_high_c"),
        RoomAirBand = Band(row, "air_low_c", "air_high_c"),
        GrowingDay = Band(row, "day_low_c", "day_high_c"),
        GrowingNight = CatalogReader.OptionalCelsius(row, "night_c"),
        LabTest = row.Text("lab_test").Length == 0
            ? null
            : new(row.Text("lab_test"), row.Whole("lab_first"), row.Whole("lab_final"), row.Text("lab_note")),
        LifeYears = row.Whole("life_years"),
        LegalMinimum = row.Optional("legal_percent") / 100,
        LegalRule = row.Optional("legal_percent") is null ? null : row.Text("src_legal") == "CFR31" ? LegalRule.Federal
            : LegalRule.NewHampshire,
        Towel = row.Text("towel") switch
        {
            "good" => TowelSuitability.Good,
            "ok" => TowelSuitability.Possible,
            "poor" => TowelSuitability.Poor,
            _ => TowelSuitability.No,
        },
        TowelNote = row.Text("towel_note"),
        Pretreatment = row.Text("pretreatment"),
        PotOn = row.Text("pot_on"),
        IsPrickedOut = row.Text("prick_out") == "yes",
        Transplants = row.Text("transplants"),
        Certainty = row.Text("confidence") switch
        {
            "high" => Certainty.High,
            "medium" => Certainty.Medium,
            _ => Certainty.Low,
        },
    };

    private static WholeRange? Range(CsvRow row, string name) =>
        row.Whole(name + "_min") is { } low && row.Whole(name + "_max") is { } high ? new WholeRange(low, high) : null;

    private static TemperatureBand? Band(CsvRow row, string low, string high) =>
        CatalogReader.OptionalCelsius(row, low) is { } from && CatalogReader.OptionalCelsius(row, high) is { } to
            ? new TemperatureBand(from, to) : null;
}
