namespace Chamber.Core.Simulation;

/// <summary>Water vapour in the simulated air, in kPa. FAO Irrigation and Drainage Paper 56 (Allen, Pereira, Raes &amp; Smith
/// 1998).</summary>
internal static class HumidAir
{
    // Equations 15 and 16: a psychrometer with forced ventilation.
    private const double PsychrometricPerKilopascal = 0.000662;

    /// <summary>Equation 11: vapour pressure of saturated air.</summary>
    public static double Saturation(double celsius) => 0.6108 * Math.Exp(17.27 * celsius / (celsius + 237.3));

    public static double RelativePercent(double celsius, double vapourPressure) =>
        Math.Clamp(100 * vapourPressure / Saturation(celsius), 1, 100);

    /// <summary>The temperature of a wet surface in moving air: equation 15 solved for it by Newton's method.</summary>
    public static double WetBulb(double celsius, double vapourPressure, double airPressure = 101.3)
    {
        var psychrometric = PsychrometricPerKilopascal * airPressure;
        var wet = celsius - 2;
        for (var i = 0; i < 6; i++)
        {
            var saturation = Saturation(wet);
            var slope = 4098 * saturation / ((wet + 237.3) * (wet + 237.3));
            wet -= (saturation - psychrometric * (celsius - wet) - vapourPressure) / (slope + psychrometric);
        }

        return Math.Min(wet, celsius);
    }
}
