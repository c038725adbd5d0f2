using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using FsCheck.Xunit;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Climate.Moisture;

public sealed class PsychrometricsTests
{
    /// <summary>kPa, the table of "Vapour pressure of water" (Wikipedia, after the CRC Handbook of Chemistry and Physics), to 0.3
    /// %.</summary>
    [Theory]
    [InlineData(0, 0.6113)]
    [InlineData(5, 0.8726)]
    [InlineData(10, 1.2281)]
    [InlineData(15, 1.7056)]
    [InlineData(20, 2.3388)]
    [InlineData(25, 3.1690)]
    [InlineData(30, 4.2455)]
    [InlineData(35, 5.6267)]
    [InlineData(40, 7.3814)]
    [InlineData(45, 9.5898)]
    [InlineData(50, 12.344)]
    public void Saturation_agrees_with_the_table(double celsius, double kilopascals) =>
        Assert.Equal(1, Psychrometrics.SaturationHectopascals(Celsius(celsius)) / 10 / kilopascals, 0.003);

    /// <summary>R.G. Allen and others, Crop Evapotranspiration, FAO Irrigation and Drainage Paper 56, 1998, chapter 3, example 3.</summary>
    [Fact]
    public void Saturation_agrees_with_FAO_56_example_3()
    {
        var cool = Psychrometrics.SaturationHectopascals(Celsius(15)) / 10;
        var warm = Psychrometrics.SaturationHectopascals(Celsius(24.5)) / 10;
        Assert.Equal(1, cool / 1.705, 0.003);
        Assert.Equal(1, warm / 3.075, 0.003);
        Assert.Equal(2.39, (cool + warm) / 2, 0.01);
    }

    /// <summary>FAO-56, example 4, quoted from memory: dry 25.6 °C, wet 19.5 °C at 1200 m (87.9 kPa) gives 1.91 kPa; its psychrometer
    /// constant differs by 1 %.</summary>
    [Fact]
    public void A_dry_and_a_wet_thermometer_agree_with_FAO_56_example_4() =>
        Assert.Equal(1.91, Psychrometrics.VapourHectopascals(Celsius(25.6), Celsius(19.5), 879) / 10, 0.02);

    /// <summary>Calculated outside this program with the same WMO constants: dew point, deficit in kPa, g/m³.</summary>
    [Theory]
    [InlineData(20, 50, 9.255, 1.1663)]
    [InlineData(25, 60, 16.693, 1.2640)]
    [InlineData(25, 50, 13.852, 1.5800)]
    [InlineData(30, 80, 26.169, 0.8467)]
    [InlineData(18, 95, 17.186, 0.1030)]
    public void Dew_point_and_deficit_agree_with_the_worked_values(double celsius, double percent, double dewPoint, double deficit)
    {
        var (temperature, humidity) = (Celsius(celsius), RelativeHumidity.FromPercent(percent));
        Assert.Equal(dewPoint, Psychrometrics.DewPoint(temperature, humidity)!.Value.Celsius, 0.001);
        Assert.Equal(deficit, Psychrometrics.DeficitKilopascals(temperature, humidity), 0.001);
    }

    [Fact]
    public void Absolute_humidity_at_20_degrees_and_half_saturation_is_8_62_grams() =>
        Assert.Equal(8.621, Psychrometrics.GramsPerCubicMetre(Celsius(20), RelativeHumidity.FromPercent(50)), 0.002);

    /// <summary>
    /// Wet media in open air: calculated outside this program. R. Stull, Wet-Bulb Temperature from Relative Humidity and Air Temperature,
    /// J. Appl. Meteor. Climatol. 50, 2011, has 13.7 °C for 20 °C and 50 % (quoted from memory).
    /// </summary>
    [Theory]
    [InlineData(22, 40, 14.0)]
    [InlineData(22, 60, 16.9)]
    [InlineData(22, 95, 21.4)]
    [InlineData(19.4, 62, 15.0)]
    [InlineData(20, 50, 13.7)]
    public void The_wet_bulb_agrees_with_worked_values(double celsius, double percent, double wetBulb) =>
        Assert.Equal(wetBulb, Psychrometrics.WetBulb(Celsius(celsius), RelativeHumidity.FromPercent(percent)).Celsius, 0.15);

    [Fact]
    public void Air_without_vapour_has_no_dew_point() =>
        Assert.Null(Psychrometrics.DewPoint(Celsius(20), RelativeHumidity.FromPercent(0)));

    [Property]
    public void Dew_point_lies_below_wet_bulb_and_wet_bulb_below_air(byte tenths, byte share)
    {
        var (temperature, humidity) = (Celsius(tenths / 6.0), RelativeHumidity.FromPercent(1 + share * 99 / 255.0));
        var wet = Psychrometrics.WetBulb(temperature, humidity);
        Assert.True(Psychrometrics.DewPoint(temperature, humidity)!.Value.Celsius <= wet.Celsius + 1e-4);
        Assert.True(wet <= temperature);
    }
}
