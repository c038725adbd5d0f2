using Chamber.Service.Mirror;
using static Chamber.Service.Boards.Queries;

namespace Chamber.Service.Boards;

/// <summary>One batch: how far it has come, and what was forecast of it.</summary>
internal static class BatchBoard
{
    public const string Name = "chamber-batch";

    private const string Chosen = "batch=\"$batch\"";

    public static Board Make(BoardScale scale) => new(
        Name,
        "Chamber: one batch",
        "How far a batch has come, and what was forecast of it.",
        "now-14d",
        [Homes, new("batch", "Batch", Series(Measurements.Warmth, "seeds"))],
        Alerts("subject=\"$batch\""),
        [
            new("timeseries", $"Warm-hours, {scale.WarmHours}", Looks.Plain,
                new BoardQuery(scale.Warmth(Of(Measurements.Warmth, "warm_hours", "2h")), "so far"),
                new BoardQuery(scale.Warmth(Of(Measurements.Warmth, "warm_hours_half", "2h")), "half of the crop is up"))
            { Width = 24, Height = 10, Min = 0 },
            new("timeseries", "Up", Looks.Plain, new BoardQuery(Of(Measurements.Warmth, "seeds", "2h"), "sown"),
                new BoardQuery(Of(Measurements.Warmth, "up", "2h"), "up")) { Min = 0, Description = "As counted at the last look." },
            new("timeseries", "Half up, days after the sowing, as it was forecast", "d", Forecast("half_days_low", "early"),
                Forecast("half_days", "likely"), Forecast("half_days_high", "late")) { Min = 0 },
            new("stat", "Half up", "dateTimeFromNow",
                new BoardQuery($"1000 * {Of(Measurements.Forecast, "half_at_seconds", "26h")}")) { Width = 6, Height = 4 },
            new("stat", "Stop waiting, days after the sowing", "d", Forecast("stop_days")) { Width = 6, Height = 4 },
            new("stat", "Chance of even one more", "percentunit", Forecast("chance_of_more_ratio"))
            {
                Width = 6, Height = 4, Min = 0, Max = 1,
                Steps = [new(null, "red"), new(Core.Forecasts.Forecaster.StopBelow, "yellow"), new(0.5, "green")],
            },
            new("stat", "Stands on", Looks.Plain, new BoardQuery(Present(Measurements.Stay, Chosen), "{{spot}}"))
            { Width = 6, Height = 4, ShowsName = true, Opens = (SpotBoard.Name, "spot") },
            new("timeseries", "Temperature where it stands", scale.Degrees,
                new BoardQuery(
                    scale.Temperature($"{BySpot("temperature_celsius")} and on(home, spot) {Present(Measurements.Stay, Chosen)}"),
                "{{spot}}")) { Width = 24, Steps = scale.Heat, Opens = (SpotBoard.Name, "spot") },
        ]);

    private static string Of(Measurement measurement, string field, string within) => Last(measurement, field, within, Chosen);

    private static BoardQuery Forecast(string field, string legend = "") => new(Of(Measurements.Forecast, field, "26h"), legend);
}
