using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using NodaTime;

namespace Chamber.Core.Tests.Climate.Moisture;

public sealed class AirMoistureTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 2, 0, 0);

    // Dew points by the Magnus form of WMO-No. 8 agree with the usual psychrometric tables: 25 °C at 50 % has 13.9 °C, 20 °C at 90 % has
    // 18.3 °C.
    [Theory]
    [InlineData(25, 50, 11.1)]
    [InlineData(20, 90, 1.7)]
    [InlineData(20, 100, 0)]
    public void The_gap_is_that_between_the_air_and_its_dew_point(double celsius, double percent, double gap) =>
        Assert.Equal(gap,
            Psychrometrics.DewPointGap(Temperature.FromCelsius(celsius), RelativeHumidity.FromPercent(percent))!.Value.Kelvins, 0.06);

    // The claim that ±3 % near saturation are about ±0.5 K.
    [Fact]
    public void Near_saturation_three_percent_are_half_a_kelvin() =>
        Assert.Equal(0.5, Psychrometrics.DewPointGap(Temperature.FromCelsius(25), RelativeHumidity.FromPercent(97))!.Value.Kelvins, 0.05);

    [Fact]
    public void Air_under_a_shut_cover_is_not_too_wet_by_itself() => Assert.Equal(
        "The air lies 0.3 °C above its dew point (98 %): as good as saturated, as it is under a shut cover. That is not too wet by itself: "
            + "it says nothing of how wet the media is."
        + " For 6 of the 6 h measured in the last day drops could form on whatever is a little cooler.",
        Of(98).Words(TemperatureScale.Celsius));

    [Fact]
    public void Dry_air_takes_water_from_open_mix() => Assert.Equal(
        "The air lies 20 °F above its dew point (50 %): dry enough for open mix and towels to lose water. How wet they are the "
            + "air does not say.",
        Of(50).Words(TemperatureScale.Fahrenheit));

    [Fact]
    public void Humid_air_lies_between_and_gaps_are_not_measured()
    {
        var air = Of(90, everyHours: 3);
        Assert.StartsWith("The air lies 1.8 °C above its dew point (90 %): humid.", air.Words(TemperatureScale.Celsius),
            StringComparison.Ordinal);
        Assert.Equal(Duration.Zero, air.Measured);
    }

    [Fact]
    public void Without_a_reading_nothing_is_said() => Assert.Null(AirMoisture.Of([], Duration.FromHours(2)));

    private static AirMoisture Of(double percent, int everyHours = 1) =>
        AirMoisture.Of(Enumerable.Range(0, 7)
            .Select(hour => (Start + Duration.FromHours(hour * everyHours), Temperature.FromCelsius(25),
            RelativeHumidity.FromPercent(percent))), Duration.FromHours(2))!;
}
