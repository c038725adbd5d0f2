using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// The profile of a crop without measured thermal time: the usual days, scaled by temperature over an assumed base. Rough, marked so, and
/// wide.
/// </summary>
internal static class DerivedProfile
{
    // Common practice, no source: the bases of degree-day counts for tender and for hardy plants.
    private const double TenderBase = 10;
    private const double HardyBase = 4;

    // Published bases of basil run from 5.7 to 11.8 °C; the middle one is taken and the entry says so.
    private const double BasilBase = 7;

    /// <summary>
    /// From the end of the band to the middle ceiling where no handbook gives a maximum, K. Those of the 24 crops of the table lie 2 to 9
    /// K above their growers' bands. An assumption, as the spread and the fall, which are those of the table's crops in the middle.
    /// </summary>
    private const double CeilingAboveBand = 8;
    private const double CeilingSpread = 3;
    private const double CeilingFall = 3;

    /// <summary>Kelvins above its least temperature from which a tender crop comes up as fully as it does when warm. An
    /// assumption.</summary>
    private const double FullAbove = 3;

    /// <summary>
    /// Seed that needs more days than this rots first, in wet mix that is too cold for it. Nothing is published; the longest waits of the
    /// 1954 table that ended with seedlings are 53 days (asparagus at 10 °C) among tender crops and 172 (parsnip at 0 °C) among hardy ones.
    /// Tender ones are granted half as long again, since lots are slower than the table's.
    /// </summary>
    private const double TenderWaitDays = 80;
    private const double HardyWaitDays = 200;

    private const double Spread = 0.3;

    public static GerminationProfile Of(CsvRow row)
    {
        var band = Band(row);
        var @base = Base(row);
        var maximum = row.Optional("mix_max_c") ?? 0;
        var ceiling = maximum >= band.High.Celsius + 1 ? maximum : band.High.Celsius + CeilingAboveBand;
        var ceilings = new SeedCeilings(Temperature.FromCelsius(Math.Round(ceiling, 1)), CeilingSpread, CeilingFall);
        var optimum = Temperature.FromCelsius(Math.Min(band.High.Celsius, ceilings.FastestTo.Celsius));
        var cardinals = new CardinalTemperatures(
            Temperature.FromCelsius(@base), optimum, ceilings, CardinalTemperatures.UsualFootKelvins);
        return new(
            cardinals,
            WarmHours.FromCelsiusHours(Math.Round(24 * UsualDays.Middle(Usual(row)) * cardinals.EffectiveWarmth(UsualDays.HoldAt(band)))),
            Spread,
            EmergenceEvent.ShootSeen)
        {
            Origin = ProfileOrigin.Derived,
            HalfDeviation = UsualDays.AloneDeviation,
            WaitDays = WaitDays(row),
        };
    }

    /// <summary>The days to come up as packets and handbooks print them.</summary>
    public static WholeRange Usual(CsvRow row) => new((int)row.Number("days_min"), (int)row.Number("days_max"));

    /// <summary>The growers' band where there is one, else the handbooks'.</summary>
    public static TemperatureBand Band(CsvRow row) =>
        row.Optional("grower_low_c") is not null
            ? new(CatalogReader.Celsius(row, "grower_low_c"), CatalogReader.Celsius(row, "grower_high_c"))
            : new(CatalogReader.Celsius(row, "mix_low_c"), CatalogReader.Celsius(row, "mix_high_c"));

    /// <summary>
    /// Level at the legal minimum (a floor), but for heat. A tender crop comes up from its base on, or from the handbook's minimum where
    /// that is lower: an assumption.
    /// </summary>
    public static StandCurve Stand(CsvRow row, CardinalTemperatures cardinals)
    {
        var share = row.Optional("legal_percent") / 100 ?? CatalogReader.AssumedShare;
        List<(Temperature, double)> points = [(cardinals.OptimumLow, share)];
        if (IsTender(row))
        {
            var least = Math.Min(cardinals.Base.Celsius, row.Optional("mix_min_c") ?? double.PositiveInfinity);
            points.AddRange([(Temperature.FromCelsius(least), 0), (Temperature.FromCelsius(least + FullAbove), share)]);
        }

        return new(points, cardinals.Ceilings) { CeilingDoubtKelvins = CatalogReader.LotCeilingKelvins };
    }

    /// <summary>Whether the crop goes out after the frost and wants it warm.</summary>
    public static bool IsTender(CsvRow row) => row.Whole("plantout_min") >= 0 && Band(row).High.Celsius > 21.5;

    /// <summary>Days after which its seed has rotted in the cold.</summary>
    public static double WaitDays(CsvRow row) => IsTender(row) ? TenderWaitDays : HardyWaitDays;

    public static double Base(CsvRow row) =>
        row.Text("id") == "basil" ? BasilBase : IsTender(row) ? TenderBase : HardyBase;
}
