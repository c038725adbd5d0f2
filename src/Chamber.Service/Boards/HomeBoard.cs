using Chamber.Service.Mirror;
using static Chamber.Service.Boards.Queries;

namespace Chamber.Service.Boards;

/// <summary>The whole home today.</summary>
internal static class HomeBoard
{
    public const string Name = "chamber-home";

    public static Board Make(BoardScale scale) => new(
        Name,
        "Chamber: the home today",
        "How warm it is where, what needs doing, and how far each batch has come.",
        "now-3d",
        [Homes],
        Alerts(),
        [
            new("timeseries", "Temperature by spot", scale.Degrees,
                new BoardQuery(scale.Temperature(BySpot("temperature_celsius")), "{{spot}}"))
            { Width = 16, Height = 11, Steps = scale.Heat, Opens = (SpotBoard.Name, "spot") },
            new("table", "Alerts that are open", Looks.Plain,
                new BoardQuery($"{Last(Measurements.Alert, "severity", "90d")} * {Last(Measurements.Alert, "open", "90d")} > 0",
                    "Severity"))
            {
                Width = 8, Height = 11, Words = Looks.Severities, Columns = [new("subject", "Where"), new("kind", "What")],
                Description = "Opened within 90 days.",
            },
            new("bargauge", "Warm-hours, as a share of what half of the crop needs", Looks.Percent,
                new BoardQuery($"100 * {Last(Measurements.Warmth, "warm_hours", "2h")} / "
                + $"{Last(Measurements.Warmth, "warm_hours_half", "2h")}", "{{batch}} ({{crop}})"))
            { Width = 8, Min = 0, Max = 100, Steps = Looks.Share, Opens = (BatchBoard.Name, "batch") },
            new("table", "Suitability", Looks.Plain, new BoardQuery(Last(Measurements.Suitability, "score", "26h"), "Suitability"))
            {
                Width = 8, Min = 0, Max = 100, Steps = Looks.Suitability, Description = "0 to 100.",
                Columns = [new("spot", "Spot", SpotBoard.Name), new("crop", "Crop")],
            },
            new("bargauge", "Silent since", Looks.Seconds,
                new BoardQuery($"time() - tlast_over_time({Series(Measurements.Reading, "temperature_celsius")}[7d])", "{{probe}}"))
            { Width = 8, Min = 0, Steps = Looks.Silence },
            new("timeseries", "Relative humidity by spot", Looks.Percent, new BoardQuery(BySpot("humidity_percent"), "{{spot}}"))
            { Width = 24, Height = 6, Min = 0, Max = 100, Opens = (SpotBoard.Name, "spot") },
        ]);
}
