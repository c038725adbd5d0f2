using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>How far back the chart of a spot goes.</summary>
internal enum SpotSpan
{
    Day,
    Fortnight,
    Year,
}

/// <summary>The chart of a spot: its temperature, with the ideal band of a crop.</summary>
internal static class SpotChart
{
    private const int DaysOfYear = 365;

    /// <summary>How a span reads after "the last".</summary>
    public static string Words(SpotSpan span) => Choice.Words(span);

    /// <summary>The chart; null when nothing was measured.</summary>
    public static ChartModel? Of(HomeReader home, SpotId spot, Crop? crop, SpotSpan span, Instant now)
    {
        var today = now.InZone(home.Zone).Date;
        if (span == SpotSpan.Year)
        {
            return Year(home, spot, crop, today);
        }

        var when = new Interval(now - Length(span), now);
        var trace = home.Thinned(spot, when, TemperatureSeries.Parts(TemperatureSeries.DefaultPoints));
        var line = TemperatureChart.Line(TemperatureSeries.Of(trace, when), home.Scale);
        return trace.Readings == 0 ? null : new([line], home.Scale.Unit(), TemperatureChart.Band(crop, home.Scale), [])
        {
            Table = ChartTable.Extremes(line.Points, home.Scale.Unit(), home.Zone, today),
        };
    }

    // A year has more ups and downs than a screen has points: what counts is how low and how high each day was.
    private static ChartModel? Year(HomeReader home, SpotId spot, Crop? crop, LocalDate today)
    {
        var start = today.PlusDays(1 - DaysOfYear).AtStartOfDayInZone(home.Zone).ToInstant();
        var when = new Interval(start, start + Duration.FromDays(DaysOfYear + 1));
        var trace = home.Thinned(spot, when, DaysOfYear + 1);
        if (trace.Readings == 0)
        {
            return null;
        }

        var line = TemperatureChart.Line(TemperatureSeries.Of(trace, when), home.Scale);
        var days = line.Points.Where(point => point[1] is not null)
            .GroupBy(point => Instant.FromUnixTimeMilliseconds((long)point[0]!.Value).InZone(home.Zone).Date)
            .ToDictionary(day => day.Key, day => (Low: day.Min(point => point[1]), High: day.Max(point => point[1])));
        return new([], home.Scale.Unit(), TemperatureChart.Band(crop, home.Scale), [])
        {
            Ranges = [new("lowest to highest of the day", TemperatureChart.Clay, [.. Days(days, home.Zone, today)])],
            Table = ChartTable.Extremes(line.Points, home.Scale.Unit(), home.Zone, today),
        };
    }

    private static IEnumerable<double?[]> Days(Dictionary<LocalDate, (double? Low, double? High)> days, DateTimeZone zone, LocalDate today)
    {
        for (var day = days.Keys.Min(); day <= today; day = day.PlusDays(1))
        {
            var noon = day.At(new LocalTime(12, 0)).InZoneLeniently(zone).ToInstant().ToUnixTimeMilliseconds();
            yield return days.TryGetValue(day, out var one) ? [noon, one.Low, one.High] : [noon, null, null];
        }
    }

    private static Duration Length(SpotSpan span) => Duration.FromDays(span switch
    {
        SpotSpan.Day => 1,
        _ => 14,
    });
}
