using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>Crops with hand-made profiles, so that these tests don't move with the catalog.</summary>
internal static class SomeCrops
{
    /// <summary>
    /// Onion: base 2.5 °C and 80 °C·d to half (J. L. Brewster, Onions and Other Vegetable Alliums, CABI, figure 4.7, data of Harrington
    /// 1962). Plateau, ceiling and spread are invented.
    /// </summary>
    public static Crop Onion { get; } = Make("onion", (2.5, 25, 28, 38), 80 * 24, 0.2, EmergenceEvent.RootSeen, (0, 0.9), (20, 0.99),
        (30, 0.91), (40, 0.02));

    /// <summary>Cucumber: base 10.5 °C, 58 °C·d fitted to the days of Harrington and Minges 1954 by the rising limb; the rest
    /// invented.</summary>
    public static Crop Cucumber { get; } = Make("cucumber", (10.5, 30, 35, 43), 58 * 24, 0.2, EmergenceEvent.ShootSeen, (15, 0.95),
        (30, 0.99), (40, 0.49));

    /// <summary>Tomato: base 7.6 °C, 103 °C·d fitted to the same table; the rest invented.</summary>
    public static Crop Tomato { get; } = Make("tomato", (7.6, 25, 29, 38), 103 * 24, 0.22, EmergenceEvent.ShootSeen, (10, 0.82), (20, 0.98),
        (25, 0.97), (30, 0.83), (35, 0.46));

    public static Temperature Celsius(double degrees) => Temperature.FromCelsius(degrees);

    public static Instant Start { get; } = Instant.FromUtc(2026, 2, 1, 8, 0);

    public static Instant AfterDays(double days) => Start + Duration.FromDays(days);

    public static TemperatureSample Sample(double days, double celsius) => new(AfterDays(days), Celsius(celsius));

    private static Crop Make(
        string name, (double Base, double Low, double High, double Ceiling) at, double half, double spread, EmergenceEvent counted,
            params (double, double)[] stand) => new(
            new(name),
            name,
            name,
            new(new(Celsius(at.Base), Celsius(at.Low), Celsius(at.High), Celsius(at.Ceiling)), WarmHours.FromCelsiusHours(half),
                spread, counted),
            new(stand.Select(point => (Celsius(point.Item1), point.Item2))),
            new(Celsius(at.Low - 3), Celsius(at.High)),
            Celsius(at.Low - 8),
            Celsius(at.High + 1),
            LightNeed.Indifferent,
            []);
}
