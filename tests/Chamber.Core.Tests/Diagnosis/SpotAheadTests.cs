using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;

namespace Chamber.Core.Tests.Diagnosis;

/// <summary>Why nothing is to be expected of a sowing, by the limits that a diagnosis goes by; the homes are invented.</summary>
public sealed class SpotAheadTests
{
    [Theory]
    [InlineData(38, 38, CauseKind.TooHot)]
    [InlineData(5, 5, CauseKind.TooCold)]
    [InlineData(25, 25, CauseKind.WeakLot)]
    [InlineData(10, 40, CauseKind.TooHot)]
    [InlineData(5, 24, CauseKind.TooCold)]
    public void Heat_goes_before_cold_and_seed_comes_last(double night, double day, CauseKind why)
    {
        var crop = Some.Crop("tomato");
        var hours = Enumerable.Range(0, 24).Select(hour => Temperature.FromCelsius(hour < 12 ? night : day)).ToList();

        Assert.Equal(why, SpotAhead.Of(crop, hours)!.WhyNone(Germinability.OfUnknownLot(crop)).Kind);
    }
}
