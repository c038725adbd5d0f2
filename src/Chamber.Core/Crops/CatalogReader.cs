using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>Builds the shipped crops from the embedded tables.</summary>
internal static class CatalogReader
{
    /// <summary>σ where none was published: nine in ten are up by 1.9 times the warm-hours of the first tenth. Common practice, no
    /// source.</summary>
    public const double AssumedSpread = 0.25;

    /// <summary>The share that comes up where neither a table nor a legal minimum says: an assumption.</summary>
    public const double AssumedShare = 0.6;

    /// <summary>
    /// How far the ceilings of a lot lie from its crop's, K: sorts of lettuce are said to differ by some three kelvins either way, of
    /// which this is one standard deviation for any crop. From memory.
    /// </summary>
    public const double LotCeilingKelvins = 1.5;

    // Brewster's Eqn 4.8 gives 0.1844 in common logarithms for onion; times ln 10.
    private const double OnionSpread = 0.42;

    public static IEnumerable<Crop> Read()
    {
        var sources = new SourceList(CsvTable.Embedded("sources.csv"));
        var fits = ShippedFits();
        var hazards = HazardReader.Read();
        var needs = NeedReader.Read();
        return CsvTable.Embedded("crops.csv").Rows.Select(row => With(row, Build(row, fits, sources))).ToArray();

        Crop With(CsvRow row, Crop crop) => crop with
        {
            Sources = [.. crop.Sources, $"Water that seed needs: {BaseWater.Of(crop).Source}."],
            Hazards = [.. hazards[row.Text("id")]],
            Needs = [.. needs[row.Text("id")], .. NeedReader.OfLight(crop.Light, sources.Expand(row.Text("src_sowing")))],
        };
    }

    /// <summary>The row of a shipped crop.</summary>
    internal static CsvRow RowOf(CropId crop) => CsvTable.Embedded("crops.csv").Rows.Single(row => row.Text("id") == crop.Text);

    /// <summary>The row of the 1954 table that a shipped crop's profile is from; empty for a derived one.</summary>
    internal static string TableOf(CropId crop) => RowOf(crop).Text("table");

    /// <summary>The fitted profiles as shipped, by row of the 1954 table.</summary>
    internal static Dictionary<string, TableFit> ShippedFits() =>
        CsvTable.Embedded("fits-1954.csv").Rows.ToDictionary(
            row => row.Text("row"),
            row => new TableFit(
                new(Celsius(row, "base"), Celsius(row, "optimum_low"),
                    new SeedCeilings(Celsius(row, "ceiling_median"), row.Number("ceiling_spread"), row.Number("ceiling_fall")),
                    CardinalTemperatures.UsualFootKelvins),
                WarmHours.FromCelsiusHours(row.Number("half_warm_hours")),
                row.Number("log_deviation"),
                row.Number("worst_days")));

    /// <summary>Fits every row of the 1954 table again and writes the text of <c>fits-1954.csv</c>.</summary>
    internal static string FitsAsCsv()
    {
        var maxima = CsvTable.Embedded("crops.csv").Rows
            .Where(row => row.Text("table").Length > 0 && row.Text("borrowed").Length == 0)
            .ToDictionary(row => row.Text("table"), row => OptionalCelsius(row, "mix_max_c"));
        var lines = EmergenceTable.Rows.Select(pair => (pair.Key, Fit: EmergenceTableFit.Fit(pair.Value, maxima[pair.Key])))
            .Select(pair => FormattableString.Invariant(
                $"{pair.Key},{Temperatures(pair.Fit.Cardinals)},{pair.Fit.HalfWarmHours.CelsiusHours},{Errors(pair.Fit)}\n"));
        return "row,base,optimum_low,ceiling_median,ceiling_spread,ceiling_fall,half_warm_hours,log_deviation,worst_days\n"
            + string.Concat(lines);

        static string Errors(TableFit fit) => FormattableString.Invariant($"{fit.LogDeviation},{fit.WorstDays}");

        static string Temperatures(CardinalTemperatures of) => string.Join(',', new[]
        {
            of.Base.Celsius, of.OptimumLow.Celsius, of.Ceilings!.Median.Celsius, of.Ceilings.SpreadKelvins, of.Ceilings.FallKelvins,
        }.Select(value => value.ToString(CultureInfo.InvariantCulture)));
    }

    private static Crop Build(CsvRow row, Dictionary<string, TableFit> fits, SourceList sources)
    {
        var table = row.Text("table");
        var borrowed = row.Text("borrowed").Length > 0;
        var profile = table.Length > 0 ? Fitted(row, OfSort(row, fits[table]), borrowed) : DerivedProfile.Of(row);
        var stand = table.Length > 0 ? TableStand(row, table, profile.Cardinals) : DerivedProfile.Stand(row, profile.Cardinals);
        var band = table.Length > 0 ? IdealBands.Band(profile.Cardinals, stand) : DerivedProfile.Band(row);
        var hot = IdealBands.HotLimit(profile.Cardinals, stand);
        var guide = GuideReader.Read(row);
        return new(
            new CropId(row.Text("id")),
            row.Text("name"),
            row.Text("botanical"),
            profile,
            stand,
            band,
            IdealBands.CoolLimit(profile.Cardinals, band),
            hot,
            Light(row.Text("light")),
            sources.Sentences(row, profile, table.Length > 0 ? fits[table] : null))
        {
            Guide = guide,
            Conflict = Conflict(row, hot, sources, LateForLaboratories(profile, guide)),
        };
    }

    /// <summary>What the row says, a handbook's band that reaches into temperatures at which fewer come up, and laboratories that have
    /// counted before half would be up.</summary>
    private static string? Conflict(CsvRow row, Temperature hot, SourceList sources, string? late)
    {
        var known = row.Text("conflict") is { Length: > 0 } text ? sources.Expand(text) : null;
        var beyond = OptionalCelsius(row, "mix_high_c") is { } high && high > hot
            ? $"the handbooks' band goes on to {high}, while above {hot} fewer than 80 percent of the best come up by the numbers used here"
            : null;
        return string.Join("; ", new[] { known, beyond, late }.OfType<string>()) is { Length: > 0 } all ? all : null;
    }

    private static string? LateForLaboratories(GerminationProfile profile, CropGuide guide)
    {
        if (guide.LabTest is not { FinalCountDay: { } final } test)
        {
            return null;
        }

        var half = profile.HalfWarmHours.CelsiusDays / test.Day().Average(profile.Cardinals.EffectiveWarmth);
        return half <= final ? null : string.Create(CultureInfo.InvariantCulture,
            $"laboratories have counted by day {final} (7 CFR 201.58), when by the numbers used here half would be up on day {half:0.0}");
    }

    private static GerminationProfile Fitted(CsvRow row, TableFit fit, bool borrowed)
    {
        var beyond = UsualDays.LogBeyond(DerivedProfile.Usual(row), DerivedProfile.Band(row), fit.Cardinals, fit.HalfWarmHours);
        return new(
            fit.Cardinals,
            UsualDays.Joined(fit.HalfWarmHours, beyond),
            IsOnionKin(row) ? OnionSpread : AssumedSpread,
            EmergenceEvent.ShootSeen)
        {
            Origin = borrowed ? ProfileOrigin.Borrowed : ProfileOrigin.Fitted,
            HalfDeviation = UsualDays.Deviation(beyond, fit.LogDeviation, borrowed),
            WaitDays = DerivedProfile.WaitDays(row),
        };
    }

    /// <summary>The fit with the ceilings of a sort that bears more or less heat than the table's lot.</summary>
    private static TableFit OfSort(CsvRow row, TableFit fit)
    {
        if (row.Optional("ceiling_shift") is not { } shift)
        {
            return fit;
        }

        var (cardinals, ceilings) = (fit.Cardinals, fit.Cardinals.Ceilings!);
        var shifted = new SeedCeilings(
            ceilings.Median + TemperatureDifference.FromKelvins(shift), ceilings.SpreadKelvins, ceilings.FallKelvins);
        return fit with { Cardinals = new(cardinals.Base, cardinals.OptimumLow, shifted, cardinals.FootKelvins) };
    }

    internal static bool IsOnionKin(CsvRow row) => row.Text("table") == "onion";

    /// <summary>
    /// The measured shares up to the best one, but for what heat has taken of them already; above that heat alone takes, by how the seeds'
    /// ceilings lie.
    /// </summary>
    private static StandCurve TableStand(CsvRow row, string table, CardinalTemperatures cardinals)
    {
        var cells = EmergenceTable.Rows[table].Where(cell => cell.Share is not null).ToArray();
        var best = cells.Where(cell => cell.Share >= cells.Max(other => other.Share) - 1e-9).Max(cell => cell.Temperature);
        var points = cells.Where(cell => cell.Temperature <= best)
            .Select(cell => (cell.Temperature, Math.Min(1, cell.Share!.Value / cardinals.Ceilings!.ShareAbove(cell.Temperature)))).ToList();

        // Nothing comes up of a tender crop under the handbook's minimum, where the table measured nothing so cool: cold wet seed rots.
        if (DerivedProfile.IsTender(row) && OptionalCelsius(row, "mix_min_c") is { } least
            && least < points.Min(point => point.Temperature))
        {
            points.Add((least, 0));
        }

        return new(points, cardinals.Ceilings) { CeilingDoubtKelvins = row.Optional("ceiling_doubt") ?? LotCeilingKelvins };
    }

    private static LightNeed Light(string words) => words switch
    {
        _ when words.StartsWith("light helps", StringComparison.Ordinal) => LightNeed.Indifferent,
        _ when words.StartsWith("light", StringComparison.Ordinal) => LightNeed.NeedsLight,
        "dark" or "dark; cover" => LightNeed.NeedsDark,
        _ => LightNeed.Indifferent,
    };

    internal static Temperature Celsius(CsvRow row, string column) => Temperature.FromCelsius(row.Number(column));

    internal static Temperature? OptionalCelsius(CsvRow row, string column) =>
        row.Optional(column) is { } celsius ? Temperature.FromCelsius(celsius) : null;
}
