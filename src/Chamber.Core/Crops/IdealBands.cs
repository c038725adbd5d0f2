using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// Derives the ideal band and the limits of a crop from its profile and its stand curve. Full: at least 90 % of the best share comes up.
/// Fast: at least 80 % of the best speed among the temperatures at which it comes up full. The two shares are this program's choice;
/// what they give is checked against the bands that extension services print.
/// </summary>
internal static class IdealBands
{
    private const double FullShare = 0.9;
    private const double FastShare = 0.8;
    private const double HotShare = 0.8;
    private const double Step = 0.1;

    /// <summary>Half of the best speed, below which the crop takes at least twice as long as at its fastest; never inside its own ideal
    /// band, since some come up full only where they are slow.</summary>
    public static Temperature CoolLimit(CardinalTemperatures cardinals, TemperatureBand band) =>
        Round(Math.Min(cardinals.Rising(0.5).Celsius, band.Low.Celsius));

    /// <summary>The first temperature above the best one at which the stand falls under 80 % of the best; the ceiling if it never
    /// does.</summary>
    public static Temperature HotLimit(CardinalTemperatures cardinals, StandCurve stand)
    {
        var best = stand.Points.Where(point => point.Share >= stand.Best - 1e-9).Max(point => point.Temperature);
        var hot = Grid(best, cardinals.Ceiling)
            .FirstOrDefault(celsius => Share(stand, celsius) < HotShare * stand.Best, cardinals.Ceiling.Celsius);
        return Round(Math.Max(hot - Step / 2, cardinals.Rising(0.5).Celsius + 1));
    }

    /// <summary>The widest unbroken band around the fastest full temperature.</summary>
    public static TemperatureBand Band(CardinalTemperatures cardinals, StandCurve stand)
    {
        var full = Grid(cardinals.Coldest, cardinals.Ceiling).Where(celsius => Share(stand, celsius) >= FullShare * stand.Best).ToArray();
        var fastest = full.Max(cardinals.EffectiveWarmth);
        var good = full.Where(celsius => cardinals.EffectiveWarmth(celsius) >= FastShare * fastest - 1e-9).ToArray();
        var start = Array.FindIndex(good, celsius => cardinals.EffectiveWarmth(celsius) >= fastest - 1e-9);
        var (low, high) = (start, start);
        while (low > 0 && good[low] - good[low - 1] < 1.5 * Step)
        {
            low--;
        }

        while (high < good.Length - 1 && good[high + 1] - good[high] < 1.5 * Step)
        {
            high++;
        }

        return new(Round(good[low]), Round(good[high]));
    }

    private static double Share(StandCurve stand, double celsius) => stand.ShareAt(Temperature.FromCelsius(celsius));

    private static IEnumerable<double> Grid(Temperature low, Temperature high) =>
        Enumerable.Range(0, (int)Math.Floor((high.Celsius - low.Celsius) / Step + 1e-9) + 1).Select(i => low.Celsius + i * Step);

    private static Temperature Round(double celsius) => Temperature.FromCelsius(Math.Round(celsius, 1));
}
