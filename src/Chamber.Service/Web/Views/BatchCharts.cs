using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>The charts of a batch: how warm it was, its warm-hours, its forecast as it changed.</summary>
internal static class BatchCharts
{
    private const string Moss = "moss";
    private const string Quiet = "quiet";
    private const int WarmthPoints = 300;

    /// <summary>Temperature with the crop's ideal band, the looks and the days in which the first is expected; null when nothing was
    /// measured.</summary>
    public static ChartModel? Temperature(HomeReader home, Batch batch, Crop? crop, EmergenceForecast? forecast,
        TemperatureScale scale, Instant now)
    {
        var when = new Interval(batch.SownAt, Instant.Max(batch.SownAt, batch.EndedAt ?? now));
        var trace = home.ThinnedOf(batch, when, TemperatureSeries.Parts(TemperatureSeries.DefaultPoints));
        if (trace.Stretches.Count == 0)
        {
            return null;
        }

        var line = TemperatureChart.Line(TemperatureSeries.Of(trace, when), scale);
        return new([line], scale.Unit(), TemperatureChart.Band(crop, scale), [.. Looks(batch), .. Window(batch, forecast)])
        {
            Table = ChartTable.Extremes(line.Points, scale.Unit(), home.Zone, now.InZone(home.Zone).Date),
        };
    }

    /// <summary>Warm-hours since the sowing, and what half of the crop needs; null when nothing was measured.</summary>
    public static ChartModel? Warmth(HomeForecasts forecasts, Batch batch, Crop? crop, ZonedDateTime at)
    {
        var now = at.ToInstant();
        if (crop is null || forecasts.Course(batch, crop, now) is not { } course)
        {
            return null;
        }

        var step = (course.End - batch.SownAt) / WarmthPoints;
        var points = Enumerable.Range(0, WarmthPoints + 1).Select(i => batch.SownAt + step * i)
            .Select(at => new double?[] { at.ToUnixTimeMilliseconds(), Math.Round(course.At(at).CelsiusHours, 1) })
            .ToList();
        var half = forecasts.HalfOf(batch, crop).CelsiusHours;
        double?[][] need = [[points[0][0], Math.Round(half)], [points[^1][0], Math.Round(half)]];
        return new([new("Warm-hours", Moss, points), new("half of the crop is up by", Quiet, need, Dashed: true)], "°C·h", [],
            [.. Looks(batch)])
        {
            Table = ChartTable.Last("Warm-hours by its end, °C·h", points, at.Zone, at.Date),
        };
    }

    /// <summary>The day on which half were forecast to be up, as it was said day by day; null when there is nothing to show.</summary>
    public static ChartModel? Forecasts(Batch batch, IReadOnlyList<ForecastThen> history, DateTimeZone zone, LocalDate today)
    {
        var days = history.Where(then => then.Half is { Low: not null, Mid: not null, High: not null }).ToList();
        return days.Count < 2 ? null : new(
            [new("half up, most likely", TemperatureChart.Clay,
                [.. days.Select(then => new double?[] { Ms(then.At), Ms(then.Half.Mid!.Value) })])],
            "day of half up",
            [],
            [.. Looks(batch)])
        {
            AreDays = true,
            Ranges = [new("right about 4 times in 5", Quiet,
                [.. days.Select(then => new double?[] { Ms(then.At), Ms(then.Half.Low!.Value), Ms(then.Half.High!.Value) })])],
            Table = new(["Said on", "Earliest", "Most likely", "Latest"],
                [.. days.Select(then => (IReadOnlyList<string>)
                    [.. new[] { then.At, then.Half.Low!.Value, then.Half.Mid!.Value, then.Half.High!.Value }
                        .Select(at => TimeText.ShowDay(at.InZone(zone).Date, today))])]),
        };
    }

    private static double Ms(Instant at) => at.ToUnixTimeMilliseconds();

    // Two looks a day with the same count would bury the line: only those that tell something new are marked.
    private static IEnumerable<ChartMark> Looks(Batch batch) =>
        batch.Looks.Where((look, i) => i == 0 || look.Up != batch.Looks[i - 1].Up)
            .Select(look => new ChartMark(look.At.ToUnixTimeMilliseconds(), look.At.ToUnixTimeMilliseconds(), $"{look.Up} up"));

    private static IEnumerable<ChartMark> Window(Batch batch, EmergenceForecast? forecast) =>
        FirstSeen.Of(batch).By is null && forecast?.First is { Low: { } low, High: { } high }
            ? [new((batch.SownAt + low).ToUnixTimeMilliseconds(), (batch.SownAt + high).ToUnixTimeMilliseconds(), "first up")]
            : [];
}
