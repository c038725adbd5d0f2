using System.Text.RegularExpressions;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Listening;

/// <summary>Quantities and units by the words that sensors use for them: common practice, no source; <c>CEL</c>, <c>FAH</c> and
/// <c>P1</c> are of UN/CEFACT recommendation 20.</summary>
internal static partial class QuantityWords
{
    /// <summary>A heated home is never so warm in °C, and hardly ever so cool in °F.</summary>
    private const double FahrenheitAbove = 45;

    private static readonly (Quantity Quantity, string[] Words)[] Known =
    [
        (Quantity.Moisture, ["moisture", "soilmoisture", "soil"]),
        (Quantity.Humidity, ["humidity", "hum", "rh", "relativehumidity"]),
        (Quantity.Battery, ["battery", "batt", "batterylevel", "batterypercent"]),
        (Quantity.Temperature, ["temperature", "temp", "t", "tc", "tf", "tempc", "tempf", "temperaturec", "temperaturef", "celsius",
            "fahrenheit"]),
    ];

    /// <summary>What a name stands for; null when it is none of the quantities.</summary>
    public static Quantity? Find(string name)
    {
        var bare = Signs().Replace(name, "").ToLowerInvariant();
        foreach (var (quantity, words) in Known)
        {
            if (words.Contains(bare) || words.Any(word => word.Length > 6 && bare.EndsWith(word, StringComparison.Ordinal)))
            {
                return quantity;
            }
        }

        return null;
    }

    /// <summary>The unit of a value: as it is written beside it, as its name says, or as its size suggests.</summary>
    public static (string Code, bool IsGuess) Unit(Quantity quantity, string name, string? written, double value)
    {
        if (written is not null && Written(written) is { } spelled && DeclaredUnit.TryParse(spelled, quantity, out var unit))
        {
            return (unit.Code, false);
        }

        return quantity switch
        {
            Quantity.Temperature when Celsius().IsMatch(name) => ("Cel", false),
            Quantity.Temperature when Fahrenheit().IsMatch(name) => ("[degF]", false),
            Quantity.Temperature => (value > FahrenheitAbove ? "[degF]" : "Cel", true),
            Quantity.Moisture => ("%", true),
            _ => (value <= 1 ? "1" : "%", value is > 0 and <= 1),
        };
    }

    private static string? Written(string unit) => unit.Trim() switch
    {
        "C" or "c" or "celsius" or "degC" or "CEL" => "Cel",
        "F" or "f" or "fahrenheit" or "degF" or "FAH" => "[degF]",
        "P1" => "%",
        var other => other,
    };

    [GeneratedRegex(@"[^A-Za-z]")]
    private static partial Regex Signs();

    [GeneratedRegex(@"celsius|[_-]c$|(?<=temp|temperature|^t)C$", RegexOptions.CultureInvariant)]
    private static partial Regex Celsius();

    [GeneratedRegex(@"fahrenheit|[_-]f$|(?<=temp|temperature|^t)F$", RegexOptions.CultureInvariant)]
    private static partial Regex Fahrenheit();
}
