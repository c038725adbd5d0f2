using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using NodaTime;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Climate.Warmth;

/// <summary>Integrals of straight lines, worked out by hand; the clock changes of Berlin by the tz database.</summary>
public sealed class WarmthFoldTests
{
    [Fact]
    public void A_straight_line_through_the_whole_response_is_integrated_exactly()
    {
        // From 0 to 40 °C in 2 h, 20 K/h: triangle 10-25 (15²/2), plateau 15 × 5, falling 15 × 5 / 2; all over 20 K/h.
        var report = WarmthFold.Over(Trace((0, 0), (2, 40)), Limits, DateTimeZone.Utc);
        Assert.Equal((15 * 15 / 2.0 + 15 * 5 + 15 * 5 / 2.0) / 20, report.Total.Measured.CelsiusHours, 12);
        Assert.Equal(15 / 20.0, report.Total.HoursBelow, 12);
        Assert.Equal(9 / 20.0, report.Total.HoursAbove, 12);
    }

    [Fact]
    public void A_gap_longer_than_the_bound_is_not_a_straight_line()
    {
        var report = WarmthFold.Over(Trace((0, 20), (1, 20), (6, 20), (7, 20)), Limits, DateTimeZone.Utc);
        Assert.Equal(20, report.Total.Measured.CelsiusHours, 9);
        Assert.Equal(0, report.Total.Estimated.CelsiusHours);
        Assert.Equal(Duration.FromHours(5), report.Total.UnknownTime);
    }

    [Fact]
    public void A_gap_is_filled_from_the_usual_day_and_counted_as_estimated()
    {
        // The usual day is 20 °C until noon and 14 °C after; the gap lasts from 10 to 15 h of the third day.
        var usual = HourOfDayProfile.From(
            Every(1, 0, 48, hour => hour % 24 < 12 ? 20 : 14), DateTimeZone.Utc, TwoHours);
        var trace = TemperatureTrace.Of(Every(10, 2, 10, _ => 22).Concat([new(At(2, 15), Celsius(22)), new(At(2, 16), Celsius(22))]),
            TwoHours);
        var sum = WarmthFold.Over(trace, Limits, DateTimeZone.Utc, usual).Total;
        Assert.Equal(11 * 12, sum.Measured.CelsiusHours, 9);
        Assert.Equal(2 * 10 + 3 * 4, sum.Estimated.CelsiusHours, 0.2);
        Assert.Equal(Duration.FromHours(5), sum.EstimatedTime);
        Assert.Equal(Duration.Zero, sum.UnknownTime);
    }

    [Fact]
    public void An_hour_that_the_usual_day_lacks_stays_unknown()
    {
        var usual = HourOfDayProfile.From(Every(1, 0, 12, _ => 20), DateTimeZone.Utc, TwoHours);
        var trace = Trace((0, 20), (1, 20), (23, 20), (24, 20));
        var sum = WarmthFold.Over(trace, Limits, DateTimeZone.Utc, usual).Total;
        Assert.Equal(Duration.FromHours(11), sum.EstimatedTime);
        Assert.Equal(Duration.FromHours(11), sum.UnknownTime);
    }

    [Fact]
    public void The_temperature_is_held_up_to_the_bound_before_and_after_readings()
    {
        var sum = WarmthFold.Over(Trace((10, 20), (11, 20)), new Interval(At(0, 5), At(0, 14)), Limits, DateTimeZone.Utc).Total;
        Assert.Equal(Duration.FromHours(1), sum.MeasuredTime);
        Assert.Equal(Duration.FromHours(4), sum.EstimatedTime);
        Assert.Equal(40, sum.Estimated.CelsiusHours, 9);
        Assert.Equal(Duration.FromHours(4), sum.UnknownTime);
    }

    [Fact]
    public void Days_are_those_of_the_home_also_on_nights_of_clock_change()
    {
        // 29 March 2026 has 23 hours in Berlin, 25 October has 25.
        foreach (var (date, hours) in new[] { (new LocalDate(2026, 3, 29), 23), (new LocalDate(2026, 10, 25), 25) })
        {
            var start = Berlin.AtStartOfDay(date.PlusDays(-1)).ToInstant();
            var samples = Enumerable.Range(0, 73).Select(hour => new TemperatureSample(start + Duration.FromHours(hour), Celsius(20)));
            var report = WarmthFold.Over(TemperatureTrace.Of(samples, TwoHours), Limits, Berlin);
            var day = Assert.Single(report.Days, day => day.Date == date);
            Assert.Equal(hours * 10, day.Sum.Measured.CelsiusHours, 9);
            Assert.Equal(240, report.Days[0].Sum.Measured.CelsiusHours, 9);
        }
    }

    [Fact]
    public void Nothing_measured_over_a_night_of_clock_change_is_filled_by_its_length()
    {
        var usual = HourOfDayProfile.From(Every(10, 0, 48, _ => 20), Berlin, TwoHours);
        var start = Berlin.AtStartOfDay(new LocalDate(2026, 10, 25)).ToInstant();
        var end = Berlin.AtStartOfDay(new LocalDate(2026, 10, 26)).ToInstant();
        var trace = TemperatureTrace.Of([], TwoHours);
        var sum = WarmthFold.Over(trace, new Interval(start, end), Limits, Berlin, usual).Total;
        Assert.Equal(Duration.FromHours(25), sum.EstimatedTime);
        Assert.Equal(250, sum.Estimated.CelsiusHours, 9);
    }

    [Fact]
    public void No_readings_make_no_warm_hours_and_no_days()
    {
        var report = WarmthFold.Over(TemperatureTrace.Of([], TwoHours), Limits, DateTimeZone.Utc);
        Assert.Equal(default, report.Total);
        Assert.Empty(report.Days);
    }

    [Fact]
    public void The_fold_over_days_equals_the_running_tally()
    {
        var samples = Every(1, 0, 72, hour => 22 + 9 * Math.Sin(hour / 3)).ToList();
        var tally = new WarmthTally(Limits, TwoHours);
        samples.ForEach(sample => tally.Add(sample.At, sample.Temperature));
        var report = WarmthFold.Over(TemperatureTrace.Of(samples, TwoHours), Limits, Berlin);
        Assert.Equal(tally.Measured.CelsiusHours, report.Total.Measured.CelsiusHours, 1e-6);
        Assert.Equal(tally.HoursBelow, report.Total.HoursBelow, 1e-6);
        Assert.Equal(tally.HoursAbove, report.Total.HoursAbove, 1e-6);
        Assert.Equal(tally.MeasuredTime, report.Total.MeasuredTime);
    }
}
