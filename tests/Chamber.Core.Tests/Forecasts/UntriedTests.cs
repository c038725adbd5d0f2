using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Core.Tests.Forecasts;

public class UntriedTests
{
    private static readonly Crop Own = Some.Crop("onion") with
    {
        Profile = Some.Crop("onion").Profile with { Tried = new(Temperature.FromCelsius(8), Temperature.FromCelsius(15)) },
    };

    [Fact]
    public void A_profile_widens_beyond_its_trials_and_not_within()
    {
        Assert.Equal(Factor(Some.Crop("onion"), 12), Factor(Own, 12), 1e-9);
        Assert.True(Factor(Own, 16) > 1.2 * Factor(Own, 15));
        Assert.True(Factor(Own, 20) > 10 * Factor(Own, 15));
        Assert.True(Factor(Own, 6) > 1.5 * Factor(Own, 8));
    }

    private static double Factor(Crop crop, double celsius)
    {
        var half = CropForecast.AtSteady(new(crop, 12), Temperature.FromCelsius(celsius)).Half;
        return half.High!.Value / half.Low!.Value;
    }
}
