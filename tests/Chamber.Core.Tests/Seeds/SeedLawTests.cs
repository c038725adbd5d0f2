using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Testing;

namespace Chamber.Core.Tests.Seeds;

/// <summary>Against the Federal Seed Act Regulations, 7 CFR part 201, 2015 edition, and New Hampshire's Agr 2203.01
/// (tests/cases/seed-law).</summary>
public class SeedLawTests
{
    [Fact]
    public void Label_tolerances_are_those_of_section_201_63()
    {
        Assert.All(Rows("label-tolerances.csv"), row =>
        {
            Assert.Equal(Whole(row[2]), LabelClaim.Tolerance(Whole(row[0])));
            Assert.Equal(Whole(row[2]), LabelClaim.Tolerance(Whole(row[1]) - 0.5));
            Assert.Equal(Whole(row[2]) + 2, LabelClaim.Tolerance(Whole(row[0]), 200));
        });
    }

    [Fact]
    public void Replicate_ranges_meet_section_201_55_within_a_point() =>
        Assert.All(Rows("replicate-ranges.csv"),
            row => Assert.InRange(LabelClaim.ReplicateRange(Whole(row[0])), Whole(row[2]) - 1, Whole(row[2]) + 1));

    /// <summary>Where the regulation calls a crop otherwise than the catalog.</summary>
    private static readonly Dictionary<string, string> InLaw = new(StringComparer.Ordinal)
    {
        ["pepper-sweet"] = "pepper",
        ["pepper-hot"] = "pepper",
        ["tomatillo"] = "tomato_husk",
        ["summer-squash"] = "squash",
        ["winter-squash"] = "squash",
        ["bean-snap"] = "bean_garden",
        ["broad-bean"] = "broadbean",
        ["mustard-greens"] = "mustard_india",
        ["swiss-chard"] = "chard_swiss",
        ["bunching-onion"] = "onion_welsh",
        ["basil"] = "basil_sweet",
        ["cilantro"] = "coriander",
        ["summer-savory"] = "savory_summer",
        ["asparagus-bean"] = "asparagusbean",
        ["burdock"] = "burdock_great",
        ["corn-salad"] = "cornsalad",
        ["garden-cress"] = "cress_garden",
        ["land-cress"] = "cress_upland",
        ["watercress"] = "cress_water",
        ["chinese-kale"] = "kale_chinese",
        ["siberian-kale"] = "kale_siberian",
        ["komatsuna"] = "mustard_spinach",
        ["new-zealand-spinach"] = "spinach_new_zealand",
        ["chilli-chinense"] = "pepper",
        ["chilli-baccatum"] = "pepper",
        ["chilli-frutescens"] = "pepper",
        ["rocoto"] = "pepper",
        ["butternut"] = "squash",
        ["squash-maxima"] = "squash",
        ["acorn-squash"] = "squash",
        ["ground-cherry"] = "tomato_husk",
        ["shallot"] = "onion",
        ["lettuce-butterhead"] = "lettuce",
        ["lettuce-crisphead"] = "lettuce",
        ["lettuce-cos"] = "lettuce",
        ["thai-basil"] = "basil_sweet",
    };

    [Fact]
    public void Legal_minimums_of_the_whole_catalog_are_those_of_the_rule_each_names()
    {
        var law = Rows("minimum-germination.csv").ToDictionary(row => row[0], row => (Share: Whole(row[1]) / 100.0, Rule: row[2]));
        var crops = CropCatalog.Shipped.Crops.Where(crop => crop.Guide?.LegalMinimum is not null).ToList();
        Assert.Equal(80, crops.Count(crop => crop.Guide!.LegalRule == LegalRule.Federal));
        Assert.Equal(["basil", "cilantro", "oregano", "rosemary", "thai-basil", "thyme"],
            crops.Where(crop => crop.Guide!.LegalRule == LegalRule.NewHampshire).Select(crop => crop.Id.Text).Order());
        Assert.All(crops, crop =>
        {
            var (share, rule) = law[InLaw.GetValueOrDefault(crop.Id.Text, crop.Id.Text.Replace('-', '_'))];
            Assert.Equal(share, crop.Guide!.LegalMinimum!.Value, 1e-9);
            Assert.Equal(rule == "7 CFR 201.31" ? LegalRule.Federal : LegalRule.NewHampshire, crop.Guide.LegalRule);
        });
    }

    private static IEnumerable<string[]> Rows(string file) =>
        File.ReadLines(SourceTree.Path("tests", "cases", "seed-law", file)).Skip(1).Select(line => line.Split(','));

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
