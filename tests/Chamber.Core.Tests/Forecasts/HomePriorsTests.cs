using Chamber.Core.Crops;
using Chamber.Core.Forecasts;

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
    public void No_shipped_profile_that_was_borrowed_or_derived_is_taken_to_be_as_sure_as_a_fitted_one()
    {
        var surest = CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin is not ProfileOrigin.Fitted)
            .Min(crop => HomePriors.CropDeviationOf(crop.Profile));

        Assert.InRange(surest, 0.25, 0.5);
    }
}
