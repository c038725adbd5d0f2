using System.Globalization;

namespace Chamber.Core.Climate;

/// <summary>
/// A temperature as a person writes it, always with its unit: <c>71F</c>, <c>21.5C</c>, <c>21.5 °C</c>.
/// A bare number is refused, because 70 and 21 are the same everyday shelf on two scales.
/// </summary>
public static class TemperatureText
{
    /// <param name="text">A number with a decimal point, an optional space and degree sign, then C or F in either case.</param>
    /// <exception cref="FormatException">The text has no unit, no number, or lies beyond <see cref="Bounds.Celsius"/>; the message says the
    /// fix.</exception>
    public static Temperature Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var trimmed = text.Trim();
        var unit = trimmed.Length == 0 ? ' ' : char.ToUpperInvariant(trimmed[^1]);
        if (unit is not ('C' or 'F'))
        {
            throw new FormatException(IsNumber(trimmed, out _)
                ? $"\"{text}\" has no unit: write {trimmed}C or {trimmed}F."
                : $"\"{text}\" is not a temperature: write a number and its unit, such as 21.5C or 71F.");
        }

        var digits = trimmed[..^1].TrimEnd().TrimEnd('°').TrimEnd();
        if (!IsNumber(digits, out var number))
        {
            throw new FormatException(digits.Contains(',', StringComparison.Ordinal)
                ? $"\"{text}\" is not a temperature: use a decimal point, as in 21.5C."
                : $"\"{text}\" is not a temperature: write a number and its unit, such as 21.5C or 71F.");
        }

        return unit == 'C' ? Within(text, number) : Within(text, (number - 32) * 5 / 9);
    }

    private static Temperature Within(string text, double celsius) =>
        Bounds.Celsius.Holds(celsius)
            ? Temperature.FromCelsius(celsius)
            : throw new FormatException($"\"{text}\" is outside {Bounds.Celsius.Range}: {Bounds.Celsius.Fix}.");

    private static bool IsNumber(string text, out double number) =>
        double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out number);
}
