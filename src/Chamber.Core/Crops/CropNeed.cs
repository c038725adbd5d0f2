using Chamber.Core.Climate;
using Chamber.Core.Statistics;

namespace Chamber.Core.Crops;

/// <summary>What seed may need beside warmth and water before it comes up.</summary>
public enum NeedKind
{
    /// <summary>Days in the cold while moist.</summary>
    MoistChill,

    /// <summary>Days that are warmer than the nights.</summary>
    AlternatingTemperature,

    /// <summary>Light on the seed.</summary>
    Light,

    /// <summary>No light on the seed.</summary>
    Darkness,

    /// <summary>Weeks in dry storage after the harvest.</summary>
    AfterRipening,
}

/// <summary>One need of a crop's seed.</summary>
/// <param name="Kind">What it needs.</param>
/// <param name="Source">Where that comes from.</param>
public sealed record CropNeed(NeedKind Kind, string Source)
{
    /// <summary>z below which a tenth of a normal distribution lies.</summary>
    private const double Tenth = 1.2815515655446004;

    /// <summary>However narrow the range of days is, seeds differ by this much, days: an assumption.</summary>
    private const double LeastDeviation = 1;

    /// <summary>Days of moist chill or of dry storage: the fewest and the most that are advised.</summary>
    public WholeRange? Days { get; init; }

    /// <summary>For chill, the temperatures that count. For alternation, night and day.</summary>
    public TemperatureBand? Band { get; init; }

    /// <summary>The share of sound seed that comes up without it, 0 to 1; null where it helps and nobody says how much.</summary>
    public double? Without { get; init; }

    /// <summary>Whether light is not needed where this is met.</summary>
    public bool ReplacesLight { get; init; }

    /// <summary>Whether so few come up without it that it is to be met first: under 8 in 10, an assumption.</summary>
    public bool IsNeeded => Without < 0.8;

    /// <summary>Days after which to go on: the most that are advised.</summary>
    public int EnoughDays => Days?.High ?? 0;

    /// <summary>
    /// The share of sound seed that can come up after so many days. Seeds that wait differ in the days they need: a tenth has enough after
    /// the fewest days advised and nine tenths after the most, normally distributed. An assumption.
    /// </summary>
    /// <param name="days">Days it has had, 0 or more.</param>
    /// <returns>0 to 1; 1 where nobody says what the need is worth.</returns>
    public double ShareAfter(double days) => Without is { } without ? without + (1 - without) * Released(days) : 1;

    private double Released(double days)
    {
        if (days <= 0 || Days is not { } range)
        {
            return 0;
        }

        var middle = (range.Low + range.High) / 2.0;
        var deviation = Math.Max(LeastDeviation, (range.High - range.Low) / 2.0 / Tenth);
        var none = StandardNormal.Cdf(-middle / deviation);
        return (StandardNormal.Cdf((days - middle) / deviation) - none) / (1 - none);
    }
}

/// <summary>Reads the shipped needs. A crop without a row needs nothing that is known of.</summary>
internal static class NeedReader
{
    public static ILookup<string, CropNeed> Read() =>
        CsvTable.Embedded("needs.csv").Rows.ToLookup(row => row.Text("crop"), Need);

    /// <summary>The need of light or of darkness, which stands in the catalog itself.</summary>
    public static IEnumerable<CropNeed> OfLight(LightNeed light, string source) => light switch
    {
        LightNeed.NeedsLight => [new(NeedKind.Light, source)],
        LightNeed.NeedsDark => [new(NeedKind.Darkness, source)],
        _ => [],
    };

    private static CropNeed Need(CsvRow row) => new(
        row.Text("kind") switch
        {
            "moist chill" => NeedKind.MoistChill,
            "alternating temperature" => NeedKind.AlternatingTemperature,
            "after-ripening" => NeedKind.AfterRipening,
            var other => throw new FormatException($"needs.csv: \"{other}\" of {row.Text("crop")} is no need."),
        },
        row.Text("source"))
    {
        Days = row.Whole("days_min") is { } low && row.Whole("days_max") is { } high ? new(low, high) : null,
        Band = CatalogReader.OptionalCelsius(row, "low_c") is { } from && CatalogReader.OptionalCelsius(row, "high_c") is { } to
            ? new(from, to) : null,
        Without = row.Optional("without"),
        ReplacesLight = row.Text("replaces_light") == "yes",
    };
}
