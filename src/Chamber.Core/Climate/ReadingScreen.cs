using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// Judges one number at a time before it may become part of a <see cref="Reading"/>: is it a sensor's code, a value of the other
/// unit, or a value that is impossible in or near a home? Hot is not implausible: a spot at 50 °C and more must be believed at
/// once, so a high value is doubted only where it makes sense as the other unit.
/// </summary>
public static class ReadingScreen
{
    /// <summary>No spot in or near a home is colder than this, and it is below what cheap chips measure, °C.</summary>
    public const double TemperatureMin = Bounds.ReadCelsiusMin;

    /// <summary>Hotter than this is beyond what cheap probes survive, °C: common practice, no source.</summary>
    public const double TemperatureMax = Bounds.ReadCelsiusMax;

    /// <summary>A wet chip may say this much and mean saturated: 100 % and the data sheet's own error of 3 %.</summary>
    public const double HumidityOvershootMax = 103;

    /// <summary>A raw moisture number is at most this far from zero.</summary>
    public const double MoistureMagnitudeMax = 1_000_000;

    /// <summary>How old the probe's last temperature may be and still tell its unit.</summary>
    public static readonly Duration MemoryMax = Duration.FromHours(6);

    // 59-104 is 15-40 °C read in °F: where a probe in a home usually is, when nothing else is known of it.
    private const double UsualFahrenheitMin = 59;
    private const double UsualFahrenheitMax = 104;

    // 15-31 as °F is frost, and as °C the usual room.
    private const double UsualCelsiusMin = 15;
    private const double UsualCelsiusMax = 31;

    // Two readings of one spot within the memory: a change of unit lands this near to the last one, K.
    private const double SameSpot = 4;

    /// <summary>Why a number is not used, or null when it is.</summary>
    /// <param name="number">As it came, in the declared unit.</param>
    /// <param name="unit">As declared.</param>
    /// <param name="previous">The probe's last believed temperature, if any; a unit can be recognised by it.</param>
    /// <param name="measuredAt">When the number was measured.</param>
    /// <param name="unitConfirmed">Somebody looked and said that the declared unit is right: no value is held for its unit.</param>
    public static RefusalReason? Judge(double number, DeclaredUnit unit, TemperatureSample? previous, Instant measuredAt,
        bool unitConfirmed = false)
    {
        ArgumentNullException.ThrowIfNull(unit);
        var held = unit.ToHeld(number);
        if (!double.IsFinite(held))
        {
            return double.IsNaN(held) ? RefusalReason.Missing : RefusalReason.Impossible;
        }

        if (SentinelValues.Contains(unit.Quantity, held))
        {
            return RefusalReason.Sentinel;
        }

        if (!unitConfirmed && LooksLikeOtherUnit(number, held, unit, Recent(previous, measuredAt)))
        {
            return RefusalReason.OtherUnit;
        }

        return IsPossible(unit.Quantity, held) ? null : RefusalReason.Impossible;
    }

    private static bool IsPossible(Quantity quantity, double held) => quantity switch
    {
        Quantity.Temperature => held is >= TemperatureMin and <= TemperatureMax,
        Quantity.Humidity => held is > 0 and <= HumidityOvershootMax,
        Quantity.Battery => held is >= 0 and <= 100,
        _ => Math.Abs(held) <= MoistureMagnitudeMax,
    };

    private static bool LooksLikeOtherUnit(double number, double held, DeclaredUnit unit, Temperature? recent)
    {
        if (unit.Quantity == Quantity.Temperature)
        {
            return LooksLikeOtherScale(number, held, unit, recent);
        }

        // A ratio where percent was declared, and percent where a ratio was. A charge of 1 % is real, a humidity of 1 % is not.
        return unit == DeclaredUnit.HumidityRatio || unit == DeclaredUnit.BatteryRatio
            ? number is > 1.03 and <= 100
            : unit == DeclaredUnit.HumidityPercent && number is > 0 and <= 1;
    }

    private static bool LooksLikeOtherScale(double number, double held, DeclaredUnit unit, Temperature? recent)
    {
        double other;
        bool usual;
        if (unit == DeclaredUnit.Celsius)
        {
            other = DeclaredUnit.Fahrenheit.ToHeld(number);
            usual = number is >= UsualFahrenheitMin and <= UsualFahrenheitMax;
        }
        else if (unit == DeclaredUnit.Fahrenheit)
        {
            other = number;
            usual = number is >= UsualCelsiusMin and <= UsualCelsiusMax;
        }
        else
        {
            // Nobody measures 250 °C or °F in a home: kelvins cannot be mistaken for either; small numbers are impossible anyway.
            return held < TemperatureMin && number is >= 0 and <= UsualFahrenheitMax;
        }

        // A number that as °F would itself be a hot spot is believed at once: better a false alarm than a late one.
        return recent is { } last && !(unit == DeclaredUnit.Celsius && number > UsualFahrenheitMax)
            ? Math.Abs(other - last.Celsius) <= SameSpot && Math.Abs(held - last.Celsius) > 2 * SameSpot
            : usual;
    }

    private static Temperature? Recent(TemperatureSample? previous, Instant measuredAt)
    {
        if (previous is not { } sample)
        {
            return null;
        }

        var age = measuredAt - sample.At;
        return age <= MemoryMax && -age <= MemoryMax ? sample.Temperature : null;
    }
}
