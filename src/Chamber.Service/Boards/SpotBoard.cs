using Chamber.Service.Mirror;
using static Chamber.Service.Boards.Queries;

namespace Chamber.Service.Boards;

/// <summary>One spot: what it was like, and which crops it suits.</summary>
internal static class SpotBoard
{
    public const string Name = "chamber-spot";

    private const string Chosen = "spot=\"$spot\"";

    public static Board Make(BoardScale scale) => new(
        Name,
        "Chamber: one spot",
        "What a spot was like, and which crops it suits.",
        "now-14d",
        [Homes, new("spot", "Spot", Series(Measurements.Station, "present"))],
        Alerts("subject=\"$spot\""),
        [
            new("timeseries", "Temperature by probe", scale.Degrees,
                new BoardQuery(scale.Temperature($"({Last(Measurements.Reading, "temperature_celsius", "15m")} {OnSpot}) and on(home, spot) "
                + Last(Measurements.Station, "present", "2h", Chosen)), "{{probe}}")) { Width = 24, Height = 10, Steps = scale.Heat },
            new("timeseries", "Relative humidity", Looks.Percent, new BoardQuery(BySpot("humidity_percent", Chosen), "{{spot}}"))
            { Min = 0, Max = 100 },
            new("timeseries", "Suitability by crop", Looks.Plain, new BoardQuery(Suitability("score"), "{{crop}}"))
            { Min = 0, Max = 100, Steps = Looks.Suitability, Description = "0 to 100." },
            new("table", "Crops", Looks.Plain,
                new BoardQuery(Suitability("score"), "Suitability"),
                new BoardQuery(Suitability("score_low"), "Low"),
                new BoardQuery(Suitability("score_high"), "High"),
                new BoardQuery(scale.Warmth(Suitability("warm_hours_per_day")), $"Warm-hours a day, {scale.WarmHours}"),
                new BoardQuery(Suitability("half_days"), "Days to half"))
            { Columns = [new("crop", "Crop")], Description = "Suitability 0 to 100; low to high is right 4 times in 5." },
            new("table", "Batches that stand there", Looks.Plain,
                new BoardQuery(Here("seeds"), "Sown"),
                new BoardQuery(Here("up"), "Up at the last look"))
            { Columns = [new("batch", "Batch", BatchBoard.Name), new("crop", "Crop")] },
            new("timeseries", "How well it is known", Looks.Percent,
                new BoardQuery($"max by (home, spot) ({Suitability("confidence")})", "confidence")) { Min = 0, Max = 100 },
        ]);

    private static string Suitability(string field) => Last(Measurements.Suitability, field, "26h", Chosen);

    private static string Here(string field) =>
        $"{Last(Measurements.Warmth, field, "2h")} and on(home, batch) {Present(Measurements.Stay, Chosen)}";
}
