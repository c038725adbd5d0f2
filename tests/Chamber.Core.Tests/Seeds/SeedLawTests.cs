using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Testing;

namespace Chamber.Core.Tests.Seeds;

/// <summary>Against the Federal Seed Act Regulations, 7 CFR part 201, 2015 edition (tests/cases/seed-law).</summary>
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
        Assert.All(Rows("replicate-ranges.csv"), row => Assert.InRange(LabelClaim.ReplicateRange(Whole(row[0])), Whole(row[2]) - 1, Whole(row[2]) + 1));

    [Theory]
    [InlineData("tomato", "tomato")]
    [InlineData("pepper-sweet", "pepper")]
    [InlineData("eggplant", "eggplant")]
    [InlineData("cucumber", "cucumber")]
    [InlineData("lettuce", "lettuce")]
    [InlineData("onion", "onion")]
    [InlineData("carrot", "carrot")]
    [InlineData("okra", "okra")]
    [InlineData("celery", "celery")]
    [InlineData("parsley", "parsley")]
    public void Legal_minimums_are_those_of_section_201_31(string crop, string inLaw)
    {
        var percent = Rows("minimum-germination.csv").Single(row => row[0] == inLaw)[1];
        Assert.Equal(Whole(percent) / 100.0, CropCatalog.Shipped.Require(crop).Guide!.LegalMinimum!.Value, 1e-9);
    }

    private static IEnumerable<string[]> Rows(string file) =>
        File.ReadLines(SourceTree.Path("tests", "cases", "seed-law", file)).Skip(1).Select(line => line.Split(','));

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}
