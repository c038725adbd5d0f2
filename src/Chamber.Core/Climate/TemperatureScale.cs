using System.Globalization;

namespace Chamber.Core.Climate;

/// <summary>The scale that temperatures are shown in. Everything inside is °C. The default is °C.</summary>
public enum TemperatureScale
{
    Celsius,
    Fahrenheit,
}

/// <summary>Temperatures as people are shown them, always with their unit: the one place that writes them.</summary>
public static class TemperatureScales
{
    /// <summary>Reads <c>C</c> or <c>F</c>, with or without the degree sign.</summary>
    public static bool TryParse(string? text, out TemperatureScale scale)
    {
        scale = text is "F" or "f" or "°F" ? TemperatureScale.Fahrenheit : TemperatureScale.Celsius;
        return text is "F" or "f" or "°F" or "C" or "c" or "°C";
    }

    public static string Unit(this TemperatureScale scale) => scale == TemperatureScale.Celsius ? "°C" : "°F";

    /// <summary><c>21.5 °C</c> or <c>71 °F</c>: a tenth of a degree C, a whole degree F.</summary>
    public static string Show(this TemperatureScale scale, Temperature temperature) => $"{scale.Number(temperature)} {scale.Unit()}";

    /// <summary><c>20 to 30 °C</c>.</summary>
    public static string Show(this TemperatureScale scale, TemperatureBand band) =>
        $"{scale.Number(band.Low)} to {scale.Number(band.High)} {scale.Unit()}";

    /// <summary><c>20 to 30 °C</c> of two limits in °C.</summary>
    public static string Show(this TemperatureScale scale, double lowCelsius, double highCelsius) =>
        scale.Show(new TemperatureBand(Temperature.FromCelsius(lowCelsius), Temperature.FromCelsius(highCelsius)));

    /// <summary>A measured value, whose tenth is shown also when it is none: <c>55.0 °C</c> or <c>131 °F</c>.</summary>
    public static string ShowMeasured(this TemperatureScale scale, Temperature temperature) => scale == TemperatureScale.Celsius
        ? string.Create(CultureInfo.InvariantCulture, $"{temperature.Celsius:0.0} °C")
        : string.Create(CultureInfo.InvariantCulture, $"{temperature.Fahrenheit:0} °F");

    /// <summary>The number alone, for a table whose heading has the unit.</summary>
    public static string Number(this TemperatureScale scale, Temperature temperature) => scale == TemperatureScale.Celsius
        ? temperature.Celsius.ToString("0.#", CultureInfo.InvariantCulture)
        : temperature.Fahrenheit.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A difference, <c>3.5 °C</c> or <c>6 °F</c>, without the offset of the scale.</summary>
    public static string Show(this TemperatureScale scale, TemperatureDifference difference) => scale == TemperatureScale.Celsius
        ? string.Create(CultureInfo.InvariantCulture, $"{difference.Kelvins:0.#} °C")
        : string.Create(CultureInfo.InvariantCulture, $"{difference.FahrenheitDegrees:0} °F");

    /// <summary>A small difference, whose second place matters: <c>0.35 °C</c> or <c>0.6 °F</c>.</summary>
    public static string ShowSmall(this TemperatureScale scale, TemperatureDifference difference) => scale == TemperatureScale.Celsius
        ? string.Create(CultureInfo.InvariantCulture, $"{difference.Kelvins:0.00} °C")
        : string.Create(CultureInfo.InvariantCulture, $"{difference.FahrenheitDegrees:0.0} °F");
}
