using System.Diagnostics.CodeAnalysis;

namespace Chamber.Core.Climate;

/// <summary>
/// The unit that somebody declared for a quantity, by its UCUM code (The Unified Code for Units of Measure, Schadow &amp; McDonald),
/// or by its SenML name (RFC 8428, Jennings et al. 2018, section 12.1). A unit is declared, never guessed from a value.
/// </summary>
public sealed class DeclaredUnit
{
    /// <summary>Degree Celsius.</summary>
    public static readonly DeclaredUnit Celsius = new("Cel", "°C", Quantity.Temperature, 1, 0);

    /// <summary>Degree Fahrenheit.</summary>
    public static readonly DeclaredUnit Fahrenheit = new("[degF]", "°F", Quantity.Temperature, 5.0 / 9, -160.0 / 9);

    /// <summary>Kelvin.</summary>
    public static readonly DeclaredUnit Kelvin = new("K", "K", Quantity.Temperature, 1, Temperature.AbsoluteZeroCelsius);

    /// <summary>Relative humidity in percent.</summary>
    public static readonly DeclaredUnit HumidityPercent = new("%", "%", Quantity.Humidity, 1, 0);

    /// <summary>Relative humidity as a ratio of 0 to 1.</summary>
    public static readonly DeclaredUnit HumidityRatio = new("1", "1", Quantity.Humidity, 100, 0);

    /// <summary>Battery charge in percent.</summary>
    public static readonly DeclaredUnit BatteryPercent = new("%", "%", Quantity.Battery, 1, 0);

    /// <summary>Battery charge as a ratio of 0 to 1.</summary>
    public static readonly DeclaredUnit BatteryRatio = new("1", "1", Quantity.Battery, 100, 0);

    /// <summary>Media moisture: whatever scale the probe has, taken as it is.</summary>
    public static readonly DeclaredUnit MoistureRaw = new("%", "%", Quantity.Moisture, 1, 0);

    private readonly double factor;
    private readonly double offset;

    private DeclaredUnit(string code, string symbol, Quantity quantity, double factor, double offset)
    {
        Code = code;
        Symbol = symbol;
        Quantity = quantity;
        this.factor = factor;
        this.offset = offset;
    }

    /// <summary>The UCUM code: <c>Cel</c>, <c>[degF]</c>, <c>K</c>, <c>%</c>, <c>1</c>.</summary>
    public string Code { get; }

    /// <summary>The sign that people write: <c>°F</c>.</summary>
    public string Symbol { get; }

    /// <summary>What it measures here.</summary>
    public Quantity Quantity { get; }

    /// <summary>The number in the unit that <see cref="Reading"/> holds: °C, percent, or the raw scale.</summary>
    public double ToHeld(double declared) => declared * factor + offset;

    /// <summary>The unit that a code stands for when it is declared for a quantity.</summary>
    /// <param name="code">A UCUM code, a SenML unit name, or °C and °F as people write them. An annotation such as <c>{counts}</c> is a raw
    /// scale.</param>
    /// <param name="quantity">What it was declared for; the same <c>%</c> means humidity, charge or moisture.</param>
    /// <param name="unit">The unit when the answer is true.</param>
    public static bool TryParse(string? code, Quantity quantity, [NotNullWhen(true)] out DeclaredUnit? unit)
    {
        unit = quantity switch
        {
            Quantity.Temperature => ParseTemperature(code),
            Quantity.Humidity => code switch { "%" or "%RH" => HumidityPercent, "1" or "/" => HumidityRatio, _ => null },
            Quantity.Battery => code switch { "%" or "%EL" => BatteryPercent, "1" or "/" => BatteryRatio, _ => null },
            _ => code is "%" or "1" or "/" || code is ['{', .., '}'] ? MoistureRaw : null,
        };
        return unit is not null;
    }

    /// <summary>The unit of a code that measures one quantity only: a temperature, or SenML's <c>%RH</c> and <c>%EL</c>. A bare percent is
    /// none.</summary>
    public static bool TryParse(string? code, [NotNullWhen(true)] out DeclaredUnit? unit)
    {
        unit = code switch { "%RH" => HumidityPercent, "%EL" => BatteryPercent, _ => ParseTemperature(code) };
        return unit is not null;
    }

    /// <summary>The codes that can be declared for a quantity, for messages: <c>Cel, [degF] or K</c>.</summary>
    public static string CodesFor(Quantity quantity) => quantity switch
    {
        Quantity.Temperature => "Cel, [degF] or K",
        Quantity.Moisture => "%, 1 or an annotation such as {counts}",
        _ => "% or 1",
    };

    public override string ToString() => Code;

    private static DeclaredUnit? ParseTemperature(string? code) => code switch
    {
        "Cel" or "CEL" or "°C" => Celsius,
        "[degF]" or "[DEGF]" or "°F" => Fahrenheit,
        "K" => Kelvin,
        _ => null,
    };
}
