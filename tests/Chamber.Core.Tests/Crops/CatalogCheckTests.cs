using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Testing;

namespace Chamber.Core.Tests.Crops;

/// <summary>
/// Every shipped crop against a number that it was not made from: the days on which laboratories count (7 CFR 201.58; herbs and flowers
/// from memory, tests/cases/laboratory-counts) and, where there is one, a published thermal time (tests/cases/thermal-times).
/// </summary>
public sealed class CatalogCheckTests(ITestOutputHelper output)
{
    private sealed record Count(double[] Hours, int? First, int Final, string Source);

    [Fact]
    public void Every_crop_is_checked_against_a_number_it_was_not_made_from()
    {
        var (counts, times) = (Counts(), ThermalTimes());
        List<Crop> outside = [];
        foreach (var crop in CropCatalog.Shipped.Crops)
        {
            var count = counts[crop.Id.Text];
            var half = crop.Profile.HalfWarmHours.CelsiusDays
                / count.Hours.Average(celsius => crop.Profile.Cardinals.EffectiveWarmth(Temperature.FromCelsius(celsius)));
            var own = times.TryGetValue(crop.Id.Text, out var published)
                ? $", {crop.Profile.DaysToHalf(Temperature.FromCelsius(20)):0.0} d at 20 °C, published {published:0.0}" : "";
            var fits = half <= count.Final && half >= 0.4 * (count.First ?? 0);
            var counted = $"counted on day {count.First?.ToString() ?? "-",2} to {count.Final,2} ({count.Source})";
            output.WriteLine($"{crop.Id.Text,-20} half {half,5:0.0} d; {counted}{own}{(fits ? "" : "  OUTSIDE")}");
            if (!fits)
            {
                outside.Add(crop);
            }
        }

        output.WriteLine($"{outside.Count} of {CropCatalog.Shipped.Crops.Count} outside, each with its conflict:");
        output.WriteLine(string.Join(Environment.NewLine, outside.Select(crop => $"{crop.Id.Text}: {crop.Conflict}")));
        Assert.True(outside.Count <= CropCatalog.Shipped.Crops.Count / 20);
        Assert.All(outside, crop => Assert.Contains("laboratories", crop.Conflict, StringComparison.Ordinal));
        Assert.All(CropCatalog.Shipped.Crops.Except(outside), crop =>
            Assert.DoesNotContain("laboratories", crop.Conflict ?? "", StringComparison.Ordinal));
    }

    [Fact]
    public void A_crop_that_wants_covering_is_not_taken_to_need_darkness()
    {
        // Zinnia, cosmos and sunflower are covered so that they stay moist; they come up in light, too (from memory).
        string[] covered = ["zinnia", "cosmos", "sunflower", "nasturtium"];
        Assert.All(covered, name => Assert.Equal(LightNeed.Indifferent, Some.Crop(name).Light));
        Assert.Equal(LightNeed.NeedsDark, Some.Crop("calendula").Light);
    }

    [Fact]
    public void A_handbook_band_that_reaches_into_the_heat_is_a_conflict_that_is_shown()
    {
        // Oregon State's band of melon ends at 95 °F.
        Assert.Contains("35.0 °C", Some.Crop("melon").Conflict, StringComparison.Ordinal);
        Assert.All(CropCatalog.Shipped.Crops, crop => Assert.True(
            crop.Guide!.HandbookBand is not { } band || band.High <= crop.HotLimit || crop.Conflict is not null, crop.Id.Text));
    }

    [Fact]
    public void Sorts_of_lettuce_bear_different_heat()
    {
        var at27 = Temperature.FromCelsius(27);
        Assert.True(Some.Crop("lettuce-butterhead").Stand.RelativeAt(at27) < Some.Crop("lettuce-cos").Stand.RelativeAt(at27));
        Assert.True(Some.Crop("lettuce-cos").Stand.RelativeAt(at27) < Some.Crop("lettuce-crisphead").Stand.RelativeAt(at27));
        Assert.True(Some.Crop("lettuce").Stand.CeilingDoubtKelvins > Some.Crop("lettuce-cos").Stand.CeilingDoubtKelvins);
    }

    private static Dictionary<string, Count> Counts()
    {
        var counts = CropCatalog.Shipped.Crops.Where(crop => crop.Guide!.LabTest?.FinalCountDay is not null).ToDictionary(
            crop => crop.Id.Text,
            crop => Of(crop.Guide!.LabTest!));
        foreach (var row in Rows("laboratory-counts", "from-memory.csv"))
        {
            var (first, final) = (row.Whole("first_count_day"), row.Whole("final_count_day")!.Value);
            counts.Add(row.Text("crop"), Of(new(row.Text("temperature_c"), first, final, "")) with { Source = "memory" });
        }

        return counts;

        static Count Of(LabTest test) => new(
            [.. test.Day().Select(hour => hour.Celsius)], test.FirstCountDay, test.FinalCountDay!.Value, "7 CFR 201.58");
    }

    private static IReadOnlyList<CsvRow> Rows(string folder, string file) =>
        CsvTable.Parse(File.ReadAllText(SourceTree.Path("tests", "cases", folder, file))).Rows;

    private static Dictionary<string, double> ThermalTimes() =>
        Rows("thermal-times", "to-emergence.csv")
            .ToDictionary(row => row.Text("crop"), row => row.Number("degree_days") / (20 - row.Number("base_c")));
}
