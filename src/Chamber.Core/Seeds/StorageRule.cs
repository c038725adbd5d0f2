using Chamber.Core.Climate;

namespace Chamber.Core.Seeds;

/// <summary>
/// What storage does to the life of seed, by Harrington's two rules of thumb: each 10 °F cooler, and each percent of seed moisture
/// less, doubles it; and storage is good while °F and percent of humidity add up to at most 100. J. F. Harrington, "Seed storage and
/// longevity", in T. T. Kozlowski (ed.), Seed Biology III (1972), not read itself: 10 °F as restated by Univ. of Washington, EHUF 473; the rule of 100
/// as restated by G. Johnson, "Storing Vegetable Seed", Univ. of Delaware Extension, who has 9 °F for the first, the 5 °C of other restatements.
/// The rules hold between 0 and 50 °C and from 5 to 14 % of moisture.
/// </summary>
public static class StorageRule
{
    /// <summary>
    /// The store that published lives are taken to mean, an unheated dry room: tables of them are written for packets kept at home and
    /// say no more than "favourable". An assumption, no source.
    /// </summary>
    private const double UsualCelsius = 18;
    private const double UsualPercent = 50;

    /// <summary>10 °F.</summary>
    private const double DoublingKelvins = 10 / 1.8;

    /// <summary>Seed holds about one percent more moisture for each so many percent of humidity around the middle of the range. From memory, no source.</summary>
    private const double HumidityPerMoisture = 10;

    /// <summary>The rules are rough: no more is believed of them than this factor either way.</summary>
    private const double FactorMax = 4;

    /// <summary>How many times its published life seed lasts there; from a quarter to four.</summary>
    public static double LifeFactor(Temperature temperature, RelativeHumidity humidity)
    {
        var cooler = (UsualCelsius - Math.Clamp(temperature.Celsius, 0, 50)) / DoublingKelvins;
        var drier = (UsualPercent - humidity.Percent) / HumidityPerMoisture;
        return Math.Clamp(Math.Pow(2, cooler + drier), 1 / FactorMax, FactorMax);
    }

    /// <summary>The factor of a usual place.</summary>
    public static double LifeFactor(this StoragePlace place)
    {
        var (temperature, humidity) = place.Usual();
        return LifeFactor(temperature, humidity);
    }

    /// <summary>Degrees Fahrenheit and percent of humidity added up; 100 or less is good storage.</summary>
    public static double Sum(Temperature temperature, RelativeHumidity humidity) => temperature.Fahrenheit + humidity.Percent;

    /// <summary>Whether the rule of 100 calls it good.</summary>
    public static bool IsGood(Temperature temperature, RelativeHumidity humidity) => Sum(temperature, humidity) <= 100;
}
