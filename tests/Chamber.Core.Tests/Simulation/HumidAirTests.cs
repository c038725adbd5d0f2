using Chamber.Core.Simulation;

namespace Chamber.Core.Tests.Simulation;

public sealed class HumidAirTests
{
    // R.G. Allen and others, FAO Irrigation and Drainage Paper 56 (1998), Annex 2, table 2.3, kPa: from memory; 15 and 24.5 °C are its
    // chapter 3, example 3, read.
    [Theory]
    [InlineData(10, 1.228)]
    [InlineData(15, 1.705)]
    [InlineData(20, 2.338)]
    [InlineData(24.5, 3.075)]
    [InlineData(25, 3.168)]
    [InlineData(30, 4.243)]
    public void Saturated_air_holds_what_the_table_says(double celsius, double kilopascals)
    {
        Assert.Equal(kilopascals, HumidAir.Saturation(celsius), 0.001);
    }

    // FAO Irrigation and Drainage Paper 56 (1998), example 4, from memory: dry bulb 25.6 °C, wet bulb 19.5 °C, 87.9 kPa give 1.91 kPa.
    [Fact]
    public void A_psychrometer_reads_as_in_the_worked_example()
    {
        Assert.Equal(19.5, HumidAir.WetBulb(25.6, 1.91, airPressure: 87.9), 0.05);
    }

    [Fact]
    public void Saturated_air_cools_no_wet_surface()
    {
        Assert.Equal(21, HumidAir.WetBulb(21, HumidAir.Saturation(21)), 6);
    }
}
