using Chamber.Core.Climate;

namespace Chamber.Core.Tests.Climate;

/// <summary>°F to °C by ISO/IEC 80000-5; the texts are invented.</summary>
public class TemperatureTextTests
{
    [Theory]
    [InlineData("21.5C", 21.5)]
    [InlineData("18.25 °C", 18.25)]
    [InlineData(" 68f ", 20)]
    [InlineData("-40F", -40)]
    public void A_temperature_with_its_unit_is_read(string text, double celsius) =>
        Assert.Equal(celsius, TemperatureText.Parse(text).Celsius, 9);

    [Theory]
    [InlineData("64", "\"64\" has no unit: write 64C or 64F.")]
    [InlineData("warm", "\"warm\" is not a temperature: write a number and its unit, such as 21.5C or 71F.")]
    [InlineData("19,5C", "\"19,5C\" is not a temperature: use a decimal point, as in 21.5C.")]
    [InlineData("-300C", "\"-300C\" is outside -90 to 150 °C: no home or garden has it; look at the number and its unit.")]
    [InlineData("", "\"\" is not a temperature: write a number and its unit, such as 21.5C or 71F.")]
    public void Anything_else_is_refused_with_the_fix(string text, string message) =>
        Assert.Equal(message, Assert.Throws<FormatException>(() => TemperatureText.Parse(text)).Message);
}
