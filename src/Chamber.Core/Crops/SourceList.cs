using System.Globalization;
using System.Text.RegularExpressions;

namespace Chamber.Core.Crops;

/// <summary>Writes the sources of a catalog entry: codes such as <c>UD</c> become author, title and year.</summary>
internal sealed partial class SourceList(CsvTable table)
{
    private readonly Dictionary<string, string> citations = table.Rows.ToDictionary(row => row.Text("code"), row => row.Text("citation"));

    /// <summary>Replaces every code in a text by its citation.</summary>
    public string Expand(string text) => Code().Replace(text, match => citations.GetValueOrDefault(match.Value, match.Value));

    /// <summary>One sentence for each group of fields.</summary>
    public IReadOnlyList<string> Sentences(CsvRow row, GerminationProfile profile, TableFit? fit) =>
    [
        Progress(row, profile, fit),
        Spread(row, profile),
        Stand(row, fit),
        Band(row, fit),
        $"Handbook and growers' bands: {Expand(row.Text("src_mix"))}.",
        $"Usual days to come up: {Expand(row.Text("src_days"))}.",
        $"Sowing depth, light, towel and potting on: {Expand(row.Text("src_sowing"))}.",
        $"Weeks to planting out: {Expand(row.Text("src_weeks"))}.",
        $"Growing temperatures: {Expand(row.Text("src_growing"))}.",
        $"Seed life: {Expand(row.Text("src_life"))}.",
        $"Legal minimum germination: {Expand(row.Text("src_legal"))}.",
        .. row.Text("lab_test").Length > 0 ? new[] { $"Laboratory test: {citations["CFR58"]}." } : [],
    ];

    private string Progress(CsvRow row, GerminationProfile profile, TableFit? fit)
    {
        if (fit is null)
        {
            return string.Create(CultureInfo.InvariantCulture,
                $"Progress: no thermal time was found; derived from the usual days ({row.Text("days_min")} to {row.Text("days_max")}) held "
                    + $"to be those of mix at {UsualDays.HoldAt(DerivedProfile.Band(row))}, over an assumed base of "
                    + $"{profile.Cardinals.Base}{(row.Text("id") == "basil" ? " (published bases run from 5.7 to 11.8 °C)" : " (common practice, no source)")}: rough.");
        }

        var relative = profile.Origin == ProfileOrigin.Borrowed ? $"borrowed from its relative {row.Text("table")}, " : "";
        var curve = profile.BaseIsCurveParameter
            ? " The base below 0 °C is a parameter of the curve, not a temperature at which seed lives." : "";
        var weak = fit.WorstDays > 2
            ? string.Create(CultureInfo.InvariantCulture, $" The fit is weak: up to {fit.WorstDays} days off.") : "";
        var doubt = row.Text("table") == "turnip" ? " The table's 1 day at 25-35 °C is implausible; do not rely on it." : "";
        var room = UsualDays.HoldAt(DerivedProfile.Band(row));
        return $"Progress (base, plateau, ceiling, half warm-hours): {relative}fitted to the days of emergence of {citations["H54"]}; the "
            + "leaflet doesn't say of which share the days are, and they are taken as those of half. The half warm-hours are the geometric "
            + $"mean of that fit's and of what the usual days say, held to be those of mix at {room}.{curve}{weak}{doubt}";
    }

    private static string Spread(CsvRow row, GerminationProfile profile) =>
        CatalogReader.IsOnionKin(row)
            ? "Spread: J.L. Brewster, Onions and Other Vegetable Alliums, Eqn 4.8, onion 'White Lisbon' on paper (after Ellis & Butcher, "
                + "1988), 0.1844 in common logarithms."
            : string.Create(CultureInfo.InvariantCulture,
                $"Spread: none was found for this crop; {profile.Spread} is an assumption (common practice, no source).");

    private string Stand(CsvRow row, TableFit? fit) =>
        fit is not null
            ? $"Share that comes up by temperature: {citations["H54"]}; beyond the measured temperatures an assumption."
            : row.Text("legal_percent").Length > 0
                ? $"Share that comes up: no table was found; the legal minimum as a floor ({Expand(row.Text("src_legal"))}), falling from "
                    + $"the end of the band to the ceiling by assumption."
                : "Share that comes up: no table and no legal minimum was found; an assumption.";

    private static string Band(CsvRow row, TableFit? fit) =>
        fit is not null
            ? "Ideal band, cool and hot limit: calculated from progress and share."
            : row.Optional("grower_low_c") is not null
                ? "Ideal band: the growers' band. Cool and hot limit: calculated from the derived progress and share."
                : "Ideal band: the handbooks' band, for want of measured shares. Cool and hot limit: calculated from the derived "
                    + "progress and share.";

    [GeneratedRegex(@"NH Agr 2203\.01|\b(H54|OSU|ANR|GN154|UCS|UD|USU|ISU17|ISU23|ISU99|UCMG|OBD|MU|CFR31|CFR58|FM|CP)\b")]
    private static partial Regex Code();
}
