namespace Chamber.Core.Climate.Moisture;

/// <summary>
/// Water vapour in air. Saturation over water by the Magnus form of WMO-No. 8, Guide to Instruments and Methods of Observation, Annex 4.B,
/// good to 0.3 % from 0 to 50 °C. Air pressure is that of sea level unless given.
/// </summary>
public static class Psychrometrics
{
    /// <summary>Standard pressure at sea level, hPa.</summary>
    public const double SeaLevelHectopascals = 1013.25;

    /// <summary>Saturation vapour pressure over water, hPa: 6.112 exp(17.62 t / (243.12 + t)).</summary>
    public static double SaturationHectopascals(Temperature temperature) => Saturation(temperature.Celsius);

    /// <summary>Vapour pressure of air, hPa.</summary>
    public static double VapourHectopascals(Temperature temperature, RelativeHumidity humidity) =>
        Saturation(temperature.Celsius) * humidity.Ratio;

    /// <summary>How much vapour the air could still take up, kPa: what dries media out.</summary>
    public static double DeficitKilopascals(Temperature temperature, RelativeHumidity humidity) =>
        Saturation(temperature.Celsius) * (1 - humidity.Ratio) / 10;

    /// <summary>The temperature at which this air is saturated; null for air without any vapour. The Magnus form solved for t.</summary>
    public static Temperature? DewPoint(Temperature temperature, RelativeHumidity humidity)
    {
        if (humidity.Percent <= 0)
        {
            return null;
        }

        var ratio = Math.Log(humidity.Ratio) + 17.62 * temperature.Celsius / (243.12 + temperature.Celsius);
        return Temperature.FromCelsius(243.12 * ratio / (17.62 - ratio));
    }

    /// <summary>
    /// How far the air lies above its dew point, at least 0; null for air without any vapour. Near saturation a sensor's ±3 % make about
    /// ±0.5 K of it, so that it says more than a deficit does.
    /// </summary>
    public static TemperatureDifference? DewPointGap(Temperature temperature, RelativeHumidity humidity) =>
        DewPoint(temperature, humidity) is { } dew ? TemperatureDifference.FromKelvins(Math.Max(0, temperature.Celsius - dew.Celsius))
            : null;

    /// <summary>Absolute humidity, g/m³: 216.68 e / T with e in hPa and T in kelvins (ideal gas, molar mass of water).</summary>
    public static double GramsPerCubicMetre(Temperature temperature, RelativeHumidity humidity) =>
        216.68 * VapourHectopascals(temperature, humidity) / (temperature.Celsius - Temperature.AbsoluteZeroCelsius);

    /// <summary>
    /// The temperature that wet, open media tends to in this air, by the equation of the ventilated psychrometer, WMO-No. 8, Annex 4.B:
    /// e = es(tw) - 6.53e-4 (1 + 0.000944 tw) p (t - tw).
    /// </summary>
    /// <param name="temperature">Air temperature.</param>
    /// <param name="humidity">Relative humidity of the air.</param>
    /// <param name="pressureHectopascals">Air pressure, hPa.</param>
    public static Temperature WetBulb(Temperature temperature, RelativeHumidity humidity,
        double pressureHectopascals = SeaLevelHectopascals)
    {
        var vapour = VapourHectopascals(temperature, humidity);
        var (low, high) = (temperature.Celsius - 60, temperature.Celsius);
        while (high - low > 1e-6)
        {
            var middle = (low + high) / 2;
            if (VapourByWetBulb(temperature.Celsius, middle, pressureHectopascals) > vapour)
            {
                high = middle;
            }
            else
            {
                low = middle;
            }
        }

        return Temperature.FromCelsius(high);
    }

    /// <summary>Vapour pressure, hPa, from a dry and a wet thermometer.</summary>
    public static double VapourHectopascals(Temperature dry, Temperature wet, double pressureHectopascals) =>
        VapourByWetBulb(dry.Celsius, wet.Celsius, pressureHectopascals);

    private static double VapourByWetBulb(double dry, double wet, double pressure) =>
        Saturation(wet) - 6.53e-4 * (1 + 0.000944 * wet) * pressure * (dry - wet);

    private static double Saturation(double celsius) => 6.112 * Math.Exp(17.62 * celsius / (243.12 + celsius));
}
