using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>What a cell of the 1954 table tells.</summary>
public enum CellStatus
{
    /// <summary>Both days and percent were measured.</summary>
    Tested,

    /// <summary>Days were measured; the percent is lost (reprints show 0, which is not a measurement).</summary>
    DaysOnly,

    /// <summary>The percent was measured; the days are not known.</summary>
    PercentOnly,

    /// <summary>No or almost no seed came up.</summary>
    Nothing,

    /// <summary>Not tried at this temperature (some reprints show 0, which is not a measurement).</summary>
    Untested,

    /// <summary>The days table and the percent table disagree; the days are not used.</summary>
    Conflict,
}

/// <summary>One crop at one steady temperature of the mix.</summary>
/// <param name="Temperature">The steady temperature.</param>
/// <param name="Days">Days to emergence from ½ inch (13 mm) deep, whole days; reprints differ by 1 in places.</param>
/// <param name="Share">Share of normal seedlings, 0 to 1.</param>
/// <param name="Status">How far the two can be believed.</param>
public readonly record struct EmergenceCell(Temperature Temperature, double? Days, double? Share, CellStatus Status)
{
    /// <summary>Whether the days are a measurement.</summary>
    public bool HasDays => Days is not null && Status != CellStatus.Conflict;
}

/// <summary>
/// The classic table of days to emergence and percent of normal seedlings of 24 vegetables at 0 to 40 °C:
/// J.F. Harrington &amp; P.A. Minges, Vegetable Seed Germination, California Agricultural Extension leaflet, 1954.
/// </summary>
public static class EmergenceTable
{
    private static readonly Lazy<IReadOnlyDictionary<string, IReadOnlyList<EmergenceCell>>> Loaded = new(Load);

    /// <summary>The cells of each row, coolest first; rows are named <c>tomato</c>, <c>bean-snap</c>, ...</summary>
    public static IReadOnlyDictionary<string, IReadOnlyList<EmergenceCell>> Rows => Loaded.Value;

    private static Dictionary<string, IReadOnlyList<EmergenceCell>> Load() =>
        CsvTable.Embedded("emergence-1954.csv").Rows
            .GroupBy(row => row.Text("row"))
            .ToDictionary(
                group => group.Key,
                IReadOnlyList<EmergenceCell> (group) => [.. group.Select(Cell).OrderBy(cell => cell.Temperature)]);

    private static EmergenceCell Cell(CsvRow row) => new(
        Temperature.FromCelsius(row.Number("celsius")),
        row.Optional("days"),
        row.Optional("percent") / 100,
        row.Text("status") switch
        {
            "tested" => CellStatus.Tested,
            "days only" => CellStatus.DaysOnly,
            "percent only" => CellStatus.PercentOnly,
            "nothing" => CellStatus.Nothing,
            "untested" => CellStatus.Untested,
            "conflict" => CellStatus.Conflict,
            var other => throw new FormatException($"\"{other}\" is no status of a cell."),
        });
}
