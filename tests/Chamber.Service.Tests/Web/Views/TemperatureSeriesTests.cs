using Chamber.Core.Climate;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Tests.Web.Views;

/// <summary>Invented readings.</summary>
public class TemperatureSeriesTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    [Fact]
    public void A_single_hot_minute_in_a_year_of_minutes_is_still_there()
    {
        const int Minutes = 365 * 24 * 60;
        var when = new Interval(Start, Start + Duration.FromMinutes(Minutes));
        var series =
            TemperatureSeries.Of(Trace(when, Minutes, minute => minute == 333_333 ? 47.5 : minute == 44_444 ? 2.5
            : 20 + Math.Sin(minute / 1440.0 * Math.Tau)), when);
        Assert.InRange(series.Points.Count, 900, 1100);
        Assert.Equal(Minutes, series.Readings);
        Assert.Contains(series.Points, point => point[1] == 47.5 && point[0] == At(333_333));
        Assert.Contains(series.Points, point => point[1] == 2.5 && point[0] == At(44_444));
        Assert.Equal(series.Points.Select(point => point[0]).Order(), series.Points.Select(point => point[0]));
    }

    [Fact]
    public void A_gap_stays_a_gap()
    {
        var samples = Enumerable.Range(0, 20).Where(hour => hour is < 5 or > 14)
            .Select(hour => new TemperatureSample(Start + Duration.FromHours(hour), Temperature.FromCelsius(20)));
        var when = new Interval(Start, Start + Duration.FromHours(20));
        var series = TemperatureSeries.Of(ThinnedTrace.Of(samples, Duration.FromHours(2), when, TemperatureSeries.Parts(1000)), when);
        Assert.Single(series.Points, point => point[1] is null);
        Assert.Equal(At(15 * 60), series.Points.Single(point => point[1] is null)[0]);
        Assert.Equal(10, series.Points.Count(point => point[1] is not null));
    }

    [Fact]
    public void Nothing_measured_is_no_points() =>
        Assert.Empty(TemperatureSeries.Of(ThinnedTrace.Of([], Duration.FromHours(2), new(Start, Start + Duration.FromDays(1)), 50),
            new(Start, Start + Duration.FromDays(1))).Points);

    private static double At(int minute) => (Start + Duration.FromMinutes(minute)).ToUnixTimeMilliseconds();

    private static ThinnedTrace Trace(Interval when, int minutes, Func<int, double> celsius) => ThinnedTrace.Of(
        Enumerable.Range(0, minutes)
            .Select(minute => new TemperatureSample(Start + Duration.FromMinutes(minute), Temperature.FromCelsius(celsius(minute)))),
        Duration.FromHours(2),
        when,
        TemperatureSeries.Parts(1000));
}
