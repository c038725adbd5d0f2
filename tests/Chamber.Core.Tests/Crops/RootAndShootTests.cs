using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Core.Tests.Crops;

/// <summary>Root first, then the shoot through what lies above it.</summary>
public sealed class RootAndShootTests(ITestOutputHelper output)
{
    // C.A. Jones & J.R. Kiniry, CERES-Maize (1986), emergence: 6 °C·d over 8 °C for each centimetre of depth. From memory.
    [Fact]
    public void Maize_rises_by_a_centimetre_in_six_degree_days() =>
        Assert.Equal(6, 10 * RootAndShoot.DegreeDaysOfMillimetre(Some.Crop("corn-sweet"))!.Value, 0.6);

    // J.T. Ritchie & S. Otter, CERES-Wheat (1985): 10.2 °C·d over 2 °C a centimetre, from memory. Garden crops were not fitted to it;
    // they lie within a factor of two of what lies between the two cereals.
    [Fact]
    public void Other_crops_rise_about_as_fast_as_cereals()
    {
        List<double> slow = [];
        foreach (var crop in CropCatalog.Shipped.Crops.Where(crop => crop.Profile.Origin == ProfileOrigin.Fitted))
        {
            var one = RootAndShoot.DegreeDaysOfMillimetre(crop)!.Value;
            output.WriteLine($"{crop.Id.Text,-14} {one:0.00} °C·d a mm; root share {RootAndShoot.RootShare(crop):0.00}; "
                + $"shoot {crop.Profile.HalfWarmHours.CelsiusDays:0} °C·d at {crop.Guide!.DepthMillimetres} mm");
            slow.Add(one);
        }

        slow.Sort();
        Assert.InRange(slow[slow.Count / 2], 0.6 / 1.5, 1.02 * 1.5);
        Assert.True(slow.Count(one => one is > 0.3 and < 2.04) >= slow.Count * 3 / 4);
    }

    [Theory]
    [InlineData("tomato", 6, 25)]
    [InlineData("bean-snap", 25, 50)]
    [InlineData("lettuce", 3, 13)]
    public void Deeper_seed_shows_its_shoot_later_and_its_root_no_later(string name, double usual, double deep)
    {
        var crop = Some.Crop(name);
        Assert.Equal(usual, crop.Guide!.DepthMillimetres);
        var (asUsual, deeper) = (Days(usual, SowingMethod.CoveredMix), Days(deep, SowingMethod.CoveredMix));
        output.WriteLine($"{name}: {asUsual:0.0} days from {usual} mm, {deeper:0.0} from {deep}");
        Assert.Equal(Days(null, SowingMethod.CoveredMix), asUsual, 1e-6);
        Assert.InRange(deeper / asUsual, 1.05, 1.4);
        Assert.Equal(Days(usual, SowingMethod.DampTowel), Days(deep, SowingMethod.DampTowel), 1e-6);

        double Days(double? depth, SowingMethod method) => CropForecast.AtSteady(
            new(crop, 20) { Method = method, DepthMillimetres = depth }, Temperature.FromCelsius(20)).Half.Mid!.Value.TotalDays;
    }

    [Fact]
    public void Numbers_that_count_roots_have_no_depth()
    {
        var crop = Some.Crop("onion");
        var own = crop with { Profile = crop.Profile with { Event = EmergenceEvent.RootSeen } };
        Assert.Same(own.Profile, RootAndShoot.Profile(own, SowingMethod.CoveredMix, 30));
        Assert.Null(RootAndShoot.DegreeDaysOfMillimetre(own));
    }
}
