using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Testing;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>Sums of variances, worked out by hand; the deviations themselves are assumptions, none published.</summary>
public class HomePriorsTests
{
    private static readonly GerminationProfile Tomato = CropCatalog.Shipped.Require("tomato").Profile;

    [Fact]
    public void A_profile_fitted_without_doubt_has_the_doubt_of_a_table() =>
        Assert.Equal(HomePriors.CropDeviation, HomePriors.CropDeviationOf(Tomato with { HalfDeviation = 0.25 }), 12);

    // 0.45² - 0.25² + 0.12² = 0.1544, and its root is 0.393.
    [Fact]
    public void What_a_profile_is_unsure_of_beyond_that_comes_on_top() =>
        Assert.Equal(0.393, HomePriors.CropDeviationOf(Tomato with { HalfDeviation = 0.45 }), 3);

    [Fact]
    public void A_borrowed_or_derived_profile_is_less_sure_than_a_fitted_one()
    {
        var surest = CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin is not ProfileOrigin.Fitted)
            .Min(crop => HomePriors.CropDeviationOf(crop.Profile));

        Assert.InRange(surest, 0.25, 0.5);
    }

    [Fact]
    public void The_documented_numbers_are_those_of_the_program()
    {
        var rows = File.ReadLines(SourceTree.Path("docs", "arithmetic.md"))
            .Where(line => line.StartsWith("| ", StringComparison.Ordinal))
            .Select(line => line.Split('|', StringSplitOptions.TrimEntries))
            .GroupBy(cells => cells[1].Split(',')[0], cells => cells[2])
            .ToDictionary(same => same.Key, same => same.First());
        var numbers = typeof(HomePriors).GetFields().Where(field => field.IsLiteral && field.FieldType == typeof(double)).ToArray();
        Assert.Equal(12, numbers.Length);
        Assert.All(numbers, field => Assert.Equal(
            (double)field.GetRawConstantValue()!,
            double.Parse(rows[field.Name], CultureInfo.InvariantCulture)));
    }
}
