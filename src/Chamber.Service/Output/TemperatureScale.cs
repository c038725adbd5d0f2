using System.Globalization;
using Chamber.Core.Climate;

namespace Chamber.Service.Output;

/// <summary>The scale that temperatures are shown in. Everything inside is °C.</summary>
internal enum TemperatureScale
{
    Celsius,
    Fahrenheit,
}

/// <summary>Temperatures as they are shown, always with their unit.</summary>
internal static class TemperatureScales
{
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

    /// <summary>The number alone, for a table whose heading has the unit.</summary>
    public static string Number(this TemperatureScale scale, Temperature temperature) => scale == TemperatureScale.Celsius
        ? temperature.Celsius.ToString("0.#", CultureInfo.InvariantCulture)
        : temperature.Fahrenheit.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>A difference, <c>3.5 °C</c> or <c>6 °F</c>, without the offset of the scale.</summary>
    public static string Show(this TemperatureScale scale, TemperatureDifference difference) => scale == TemperatureScale.Celsius
        ? string.Create(CultureInfo.InvariantCulture, $"{difference.Kelvins:0.#} °C")
        : string.Create(CultureInfo.InvariantCulture, $"{difference.FahrenheitDegrees:0} °F");
}
