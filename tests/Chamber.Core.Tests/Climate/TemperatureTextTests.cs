using Chamber.Core.Climate;

namespace Chamber.Core.Tests.Climate;

/// <summary>°F to °C by ISO/IEC 80000-5; the texts are invented.</summary>
public class TemperatureTextTests
{
    [Theory]
    [InlineData("26.5C", 26.5)]
    [InlineData("26.5 °C", 26.5)]
    [InlineData(" 68f ", 20)]
    [InlineData("-40F", -40)]
    public void A_temperature_with_its_unit_is_read(string text, double celsius) =>
        Assert.Equal(celsius, TemperatureText.Parse(text).Celsius, 9);

    [Theory]
    [InlineData("80", "\"80\" has no unit: write 80C or 80F.")]
    [InlineData("warm", "\"warm\" is not a temperature: write a number and its unit, such as 26.5C or 80F.")]
    [InlineData("26,5C", "\"26,5C\" is not a temperature: use a decimal point, as in 26.5C.")]
    [InlineData("-300C", "\"-300C\" lies below absolute zero.")]
    [InlineData("", "\"\" is not a temperature: write a number and its unit, such as 26.5C or 80F.")]
    public void Anything_else_is_refused_with_the_mend(string text, string message) =>
        Assert.Equal(message, Assert.Throws<FormatException>(() => TemperatureText.Parse(text)).Message);
}
