using Chamber.Service.Mirror;
using static Chamber.Service.Boards.Queries;

namespace Chamber.Service.Boards;

/// <summary>The boards that are ready made: three on the history that the mirror sends, one on the service's own metrics.</summary>
internal static class BoardList
{
    private const string Degrees = "celsius";
    private const string Percent = "percent";
    private const string Plain = "none";
    private const string Seconds = "s";

    private static readonly BoardChoice Spot = new("spot", "Spot", Name(Measurements.Station, "present"));
    private static readonly BoardChoice Batch = new("batch", "Batch", Name(Measurements.Warmth, "seeds"));

    public static IReadOnlyList<Board> All { get; } = [WholeHome(), OneSpot(), OneBatch(), ServiceBoard.Make()];

    private static Board WholeHome() => new(
        "chamber-home",
        "Chamber: the home today",
        "How warm it is where, what wants a hand, and how far each batch has come.",
        "now-3d",
        [],
        [
            new("timeseries", "Temperature by spot", Degrees,
                new BoardQuery(BySpot("temperature_celsius"), "{{spot}}")) { Width = 16, Height = 11 },
            new("bargauge", "Alerts that are open: 1 note, 2 warning, 3 urgent, 4 danger", Plain,
                new BoardQuery($"{Last(Measurements.Alert, "severity", "90d")} * {Last(Measurements.Alert, "open", "90d")} > 0",
                "{{subject}}: {{kind}}")) { Width = 8, Height = 11, Description = "Opened within 90 days." },
            new("bargauge", "Warm-hours, as a share of what half of the crop needs", Percent,
                new BoardQuery($"100 * {Last(Measurements.Warmth, "warm_hours", "2h")} / "
                + $"{Last(Measurements.Warmth, "warm_hours_half", "2h")}", "{{batch}} ({{crop}})")) { Width = 8 },
            new("table", "Suitability", Plain,
                new BoardQuery(Last(Measurements.Suitability, "score", "26h"), "{{spot}}: {{crop}}")) { Width = 8 },
            new("bargauge", "Silent since", Seconds,
                new BoardQuery($"time() - tlast_over_time({Name(Measurements.Reading, "temperature_celsius")}[7d])",
                "{{probe}}")) { Width = 8 },
            new("timeseries", "Relative humidity by spot", Percent,
                new BoardQuery(BySpot("humidity_percent"), "{{spot}}")) { Width = 24, Height = 6 },
        ]);

    private static Board OneSpot() => new(
        "chamber-spot",
        "Chamber: one spot",
        "What a spot was like, and whom it suits.",
        "now-14d",
        [Spot],
        [
            new("timeseries", "Temperature by probe", Degrees,
                new BoardQuery($"({Last(Measurements.Reading, "temperature_celsius", "15m")} {OnSpot}) and on(spot) "
                + $"{Here(Measurements.Station)}", "{{probe}}")) { Width = 24, Height = 10 },
            new("timeseries", "Relative humidity", Percent, new BoardQuery(BySpot("humidity_percent", "spot=\"$spot\""), "{{spot}}")),
            new("timeseries", "Suitability by crop", Plain,
                new BoardQuery(Last(Measurements.Suitability, "score", "26h", "spot=\"$spot\""), "{{crop}}")) { Description = "0 to 100." },
            new("bargauge", "Likely range of suitability", Plain,
                new BoardQuery(Last(Measurements.Suitability, "score_low", "26h", "spot=\"$spot\""), "{{crop}}, low"),
                new BoardQuery(Last(Measurements.Suitability, "score_high", "26h", "spot=\"$spot\""), "{{crop}}, high")),
            new("bargauge", "Warm-hours that a usual day brings, °C·h", Plain,
                new BoardQuery(Last(Measurements.Suitability, "warm_hours_per_day", "26h", "spot=\"$spot\""), "{{crop}}")),
            new("timeseries", "How well it is known", Percent,
                new BoardQuery($"max by (spot) ({Last(Measurements.Suitability, "confidence", "26h", "spot=\"$spot\"")})", "confidence")),
            new("table", "Batches that stand there", Plain, new BoardQuery(Here(Measurements.Stay), "{{batch}}")),
        ]);

    private static Board OneBatch() => new(
        "chamber-batch",
        "Chamber: one batch",
        "How far a batch has come, and what was foretold of it.",
        "now-14d",
        [Batch],
        [
            new("timeseries", "Warm-hours, °C·h", Plain, new BoardQuery(Of(Measurements.Warmth, "warm_hours", "2h"), "so far"),
                new BoardQuery(Of(Measurements.Warmth, "warm_hours_half", "2h"), "half of the crop is up")) { Width = 24, Height = 10 },
            new("timeseries", "Up", Plain, new BoardQuery(Of(Measurements.Warmth, "seeds", "2h"), "sown"),
                new BoardQuery(Of(Measurements.Warmth, "up", "2h"), "up")) { Description = "As counted at the last look." },
            new("timeseries", "Half up, days after the sowing, as it was foretold", "d",
                new BoardQuery(Of(Measurements.Forecast, "half_days_low", "26h"), "early"),
                new BoardQuery(Of(Measurements.Forecast, "half_days", "26h"), "likely"),
                new BoardQuery(Of(Measurements.Forecast, "half_days_high", "26h"), "late")),
            new("stat", "Half up", "dateTimeFromNow",
                new BoardQuery($"1000 * {Of(Measurements.Forecast, "half_at_seconds", "26h")}")) { Width = 6, Height = 4 },
            new("stat", "Stop waiting, days after the sowing", "d",
                new BoardQuery(Of(Measurements.Forecast, "stop_days", "26h"))) { Width = 6, Height = 4 },
            new("stat", "Chance of even one more", "percentunit",
                new BoardQuery(Of(Measurements.Forecast, "chance_of_more_ratio", "26h"))) { Width = 6, Height = 4 },
            new("stat", "Stands on", Plain,
                new BoardQuery(Last(Measurements.Stay, "present", "2h", "batch=\"$batch\""), "{{spot}}")) { Width = 6, Height = 4 },
            new("timeseries", "Temperature where it stands", Degrees,
                new BoardQuery($"{BySpot("temperature_celsius")} and on(spot) "
                + $"{Last(Measurements.Stay, "present", "2h", "batch=\"$batch\"")}", "{{spot}}")) { Width = 24 },
        ]);

    private static string Here(Measurement measurement) => Last(measurement, "present", "2h", "spot=\"$spot\"");

    private static string Of(Measurement measurement, string field, string within) => Last(measurement, field, within, "batch=\"$batch\"");
}
