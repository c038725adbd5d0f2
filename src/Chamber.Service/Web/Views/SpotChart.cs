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
    /// <summary>How a span reads after "the last".</summary>
    public static string Words(SpotSpan span) => Choice.Words(span);

    /// <summary>The chart; null when nothing was measured.</summary>
    public static ChartModel? Of(HomeReader home, SpotId spot, Crop? crop, SpotSpan span, Instant now)
    {
        var when = new Interval(now - Length(span), now);
        var trace = home.Thinned(spot, when, TemperatureSeries.Parts(TemperatureSeries.DefaultPoints));
        return trace.Readings == 0 ? null : new(
            [TemperatureChart.Line(TemperatureSeries.Of(trace, when), home.Scale)],
            home.Scale.Unit(),
            TemperatureChart.Band(crop, home.Scale),
            []);
    }

    private static Duration Length(SpotSpan span) => Duration.FromDays(span switch
    {
        SpotSpan.Day => 1,
        SpotSpan.Fortnight => 14,
        _ => 365,
    });
}
