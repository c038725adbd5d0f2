using Chamber.Core.Batches;
using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>
/// The profile of a crop without measured thermal time: the usual days are taken to hold in the middle of its usual band and are scaled by
/// temperature over an assumed base. Rough, marked so, and wide.
/// </summary>
internal static class DerivedProfile
{
    // Common practice, no source: the bases of degree-day counts for tender and for hardy plants.
    private const double TenderBase = 10;
    private const double HardyBase = 4;

    // Published bases of basil run from 5.7 to 11.8 °C; the middle one is taken and the entry says so.
    private const double BasilBase = 7;

    /// <summary>Degrees from the end of the optimum to the ceiling where no handbook gives a maximum: common practice, no source.</summary>
    private const double CeilingAboveOptimum = 10;

    private const double Spread = 0.3;
    private const double Deviation = 0.45;

    public static GerminationProfile Of(CsvRow row)
    {
        var band = Band(row);
        var @base = Base(row);
        var maximum = row.Optional("mix_max_c") ?? 0;
        var ceiling = maximum >= band.High.Celsius + 1 ? maximum : band.High.Celsius + CeilingAboveOptimum;
        var days = Math.Sqrt(row.Number("days_min") * row.Number("days_max"));
        var middle = (band.Low.Celsius + band.High.Celsius) / 2;
        return new(
            new(Temperature.FromCelsius(@base), band.High, band.High, Temperature.FromCelsius(Math.Round(ceiling, 1))),
            WarmHours.FromCelsiusHours(Math.Round(days * 24 * (middle - @base))),
            Spread,
            EmergenceEvent.ShootSeen)
        {
            Origin = ProfileOrigin.Derived,
            HalfDeviation = Deviation,
        };
    }

    /// <summary>The growers' band where there is one, else the handbooks'.</summary>
    public static TemperatureBand Band(CsvRow row) =>
        row.Optional("grower_low_c") is not null
            ? new(CatalogReader.Celsius(row, "grower_low_c"), CatalogReader.Celsius(row, "grower_high_c"))
            : new(CatalogReader.Celsius(row, "mix_low_c"), CatalogReader.Celsius(row, "mix_high_c"));

    /// <summary>Level at the legal minimum (a floor) through the band, then straight to nothing at the ceiling.</summary>
    public static StandCurve Stand(CsvRow row, CardinalTemperatures cardinals) => new(
        [(cardinals.OptimumHigh, row.Optional("legal_percent") / 100 ?? CatalogReader.AssumedShare), (cardinals.Ceiling, 0)]);

    public static double Base(CsvRow row) =>
        row.Text("id") == "basil" ? BasilBase
        : row.Whole("plantout_min") >= 0 && Band(row).High.Celsius > 21.5 ? TenderBase
        : HardyBase;
}
