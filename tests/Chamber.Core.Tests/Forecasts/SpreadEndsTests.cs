using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>A spread that trials found to change with temperature, in the forecasts from them.</summary>
public sealed class SpreadEndsTests
{
    private static readonly CropChange Changing = new(new("own-tomato"))
    {
        BasedOn = new("tomato"), Base = Celsius(8), HalfWarmHours = WarmHours.FromCelsiusHours(2000), Spread = 0.2,
        Tried = new(Celsius(12), Celsius(28)), SpreadEnds = new(0.1, 0.4),
    };

    [Fact]
    public void Between_the_ends_ln_of_the_spread_is_a_straight_line()
    {
        var profile = Own(Changing).Profile;
        Assert.Equal([0.1, 0.1, 0.2, 0.4, 0.4], new double[] { 5, 12, 20, 28, 35 }.Select(celsius =>
            Math.Round(profile.At(Celsius(celsius)).Spread, 9)));
        Assert.Equal(0.2, Own(Changing with { SpreadEnds = null }).Profile.At(Celsius(12)).Spread);
    }

    [Fact]
    public void Seed_comes_up_closer_together_where_trials_found_it_so()
    {
        var (changing, one) = (Own(Changing), Own(Changing with { SpreadEnds = null }));
        Assert.True(Last(changing, 14) < Last(one, 14) - 0.05);
        Assert.True(Last(changing, 27) > Last(one, 27) + 0.05);
        Assert.Equal(Last(one, 20), Last(changing, 20), 0.02);
    }

    [Theory]
    [InlineData(0, 0.4, "spreadEnds is 0")]
    [InlineData(0.1, 3, "spreadEnds is 3")]
    public void Ends_have_bounds_and_need_what_was_tried(double coldest, double warmest, string why)
    {
        Assert.Contains(why, Assert.Throws<FormatException>(() => Own(Changing with { SpreadEnds = new(coldest, warmest) })).Message,
            StringComparison.Ordinal);
        Assert.Contains("needs tried", Assert.Throws<FormatException>(() => Own(Changing with { Tried = null })).Message,
            StringComparison.Ordinal);
    }

    /// <summary>ln of the time to nine in ten over that to half, in the middle.</summary>
    private static double Last(Crop crop, double celsius)
    {
        var forecast = CropForecast.AtSteady(new(crop, 40), Celsius(celsius));
        return Math.Log(forecast.Most.Mid!.Value / forecast.Half.Mid!.Value);
    }

    private static Crop Own(CropChange change) => CropCatalog.Shipped.With([change]).Require(change.Id.Text);

    private static Temperature Celsius(double celsius) => Temperature.FromCelsius(celsius);
}
