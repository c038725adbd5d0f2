using Chamber.Core.Climate;

namespace Chamber.Core.Seeds;

/// <summary>
/// What storage does to the life of seed: a smooth function of temperature and of the moisture that the seed takes from the air, one at
/// 20 °C and 50 %, where half-lives were measured. R. H. Ellis and E. H. Roberts, Ann. Bot. 45 (1980) 13-30: log10 σ = KE - CW log10 m - CH
/// t - CQ t². Beside it the rule of thumb of J. F. Harrington (1972), as restated by G. Johnson, "Storing Vegetable Seed", Univ. of
/// Delaware Extension: storage is good while °F and percent of humidity add up to at most 100.
/// </summary>
public static class StorageRule
{
    /// <summary>Where half-lives were measured: M. Nagel and A. Börner, Seed Sci. Res. 20 (2010) 1-12: 20.3 °C and 50.5 %.</summary>
    private const double MeasuredCelsius = 20;
    private const double MeasuredPercent = 50;

    /// <summary>CH and CQ, nearly the same in eight species: J. B. Dickie and others, Ann. Bot. 65 (1990) 197-204. From memory.</summary>
    private const double PerKelvin = 0.0329;
    private const double PerSquareKelvin = 0.000478;

    /// <summary>
    /// CW of onion, the lowest of 3.5 (onion), 4.8 (lettuce) and 5.9 (barley), from memory: the middle one foretells twice the losses at 66
    /// % of humidity that O. L. Justice and L. N. Bass (US Dept. of Agriculture, Handbook 506, 1978, table 13) print for seven vegetables.
    /// </summary>
    private const double MoistureExponent = 3.5;

    /// <summary>
    /// No more is believed than this factor either way. Genebanks found predicted lives longer than real ones (S. Ø. Solberg and others,
    /// Front. Plant Sci. 11 (2020) 1007): cool and dry keeping gave about six to eight times the life at ambient.
    /// </summary>
    private const double FactorMax = 8;

    /// <summary>How many times as long as at 20 °C and 50 % seed lasts there; from an eighth to eight.</summary>
    public static double LifeFactor(Temperature temperature, RelativeHumidity humidity)
    {
        var celsius = Math.Clamp(temperature.Celsius, -20, 50);
        var warmth = PerKelvin * (celsius - MeasuredCelsius) + PerSquareKelvin * (celsius * celsius - MeasuredCelsius * MeasuredCelsius);
        var moisture = Moisture(celsius, humidity.Percent) / Moisture(MeasuredCelsius, MeasuredPercent);
        return Math.Clamp(Math.Pow(10, -warmth) * Math.Pow(moisture, -MoistureExponent), 1 / FactorMax, FactorMax);
    }

    /// <summary>The factor of a usual storage.</summary>
    public static double LifeFactor(this SeedStorage storage)
    {
        var (temperature, humidity) = storage.Usual();
        return LifeFactor(temperature, humidity);
    }

    /// <summary>Degrees Fahrenheit and percent of humidity added up; 100 or less is good storage.</summary>
    public static double Sum(Temperature temperature, RelativeHumidity humidity) => temperature.Fahrenheit + humidity.Percent;

    /// <summary>Whether the rule of 100 calls it good.</summary>
    public static bool IsGood(Temperature temperature, RelativeHumidity humidity) => Sum(temperature, humidity) <= 100;

    /// <summary>
    /// Moisture of seed in balance with air, up to a factor of its oil: 1 - R = exp(-(M (1.1 + T/90))²/440). A. S. Cromarty, R. H. Ellis
    /// and E. H. Roberts, The Design of Seed Storage Facilities, IBPGR 1982. For 10 to 70 %; above that moulds do more harm than it says.
    /// </summary>
    private static double Moisture(double celsius, double percent) =>
        Math.Sqrt(-440 * Math.Log(1 - Math.Clamp(percent, 5, 90) / 100)) / (1.1 + celsius / 90);
}
