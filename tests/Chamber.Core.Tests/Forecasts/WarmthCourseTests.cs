using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Forecasts;
using FsCheck.Xunit;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>Integrals of straight lines, worked out by hand, with tomato's base of 7.6 °C (Harrington &amp; Minges 1954, fitted).</summary>
public class WarmthCourseTests
{
    private static readonly CardinalTemperatures Cardinals = Tomato.Profile.Cardinals;
    private static readonly Duration TwoHours = Duration.FromHours(2);

    [Fact]
    public void A_steady_temperature_adds_the_same_every_hour()
    {
        var course = WarmthCourse.Along(Cardinals, [Sample(0, 20), Sample(3, 20)], Until(3), Duration.MaxValue);

        Assert.Equal(3 * 24 * (20 - 7.6), course.Total.CelsiusHours, 1e-9);
        Assert.Equal(24 * (20 - 7.6), course.At(AfterDays(1)).CelsiusHours, 1e-9);
        Assert.Equal(0, course.EstimatedHours);
    }

    [Property]
    public void Any_moment_inside_agrees_with_the_tally_up_to_it(byte[] tenths, byte part)
    {
        var samples = tenths.Select((tenth, i) => Sample(i / 24.0, tenth / 6.0)).ToArray();
        if (samples.Length < 2)
        {
            return;
        }

        var end = (samples.Length - 1) / 24.0;
        var course = WarmthCourse.Along(Cardinals, samples, Until(end), TwoHours);
        var here = end * part / 255;
        var tally = new WarmthTally(new(Cardinals, Celsius(10), Celsius(30)), TwoHours);
        foreach (var sample in samples.TakeWhile(sample => sample.At <= AfterDays(here)))
        {
            tally.Add(sample.At, sample.Temperature);
        }

        var next = samples.FirstOrDefault(sample => sample.At > AfterDays(here));
        if (next != default)
        {
            var last = tally.Last!.Value;
            var share = (AfterDays(here) - last.At) / (next.At - last.At);
            tally.Add(AfterDays(here), Celsius(last.Temperature.Celsius + share * (next.Temperature - last.Temperature).Kelvins));
        }

        Assert.Equal(tally.Measured.CelsiusHours, course.At(AfterDays(here)).CelsiusHours, 1e-6);
    }

    [Fact]
    public void A_gap_is_filled_from_the_usual_day_and_counted_as_estimated()
    {
        var usual = Usual(_ => 17.6);
        var course = WarmthCourse.Along(Cardinals, [Sample(0, 27.6), Sample(0.05, 27.6), Sample(1, 27.6), Sample(1.05, 27.6)], Until(1.05),
            TwoHours, usual);

        Assert.Equal(0.95 * 24, course.EstimatedHours, 1e-9);
        Assert.Equal(0.95 * 24 * 10 + 0.1 * 24 * Cardinals.BestWarmth, course.Total.CelsiusHours, 1e-6);
    }

    [Fact]
    public void Time_before_the_first_and_after_the_last_temperature_is_estimated_too()
    {
        var course = WarmthCourse.Along(Cardinals, [Sample(1, 20), Sample(1.05, 20)], Until(3), TwoHours, Usual(_ => 12.6));

        Assert.Equal((1 + 1.95) * 24, course.EstimatedHours, 1e-9);
        Assert.Equal(2.95 * 24 * 5 + 0.05 * 24 * 12.4, course.Total.CelsiusHours, 1e-6);
    }

    [Fact]
    public void Without_a_temperature_the_usual_day_stands_in_and_else_nothing_is_said()
    {
        var usual = WarmthCourse.Along(Cardinals, [], Until(2), TwoHours, Usual(hour => hour < 12 ? 17.6 : 12.6));

        Assert.Equal(2 * (12 * 10 + 12 * 5), usual.Total.CelsiusHours, 1e-6);
        Assert.Throws<ArgumentException>(() => WarmthCourse.Along(Cardinals, [], Until(2), TwoHours));
    }

    [Fact]
    public void Temperatures_before_sowing_only_say_where_the_first_line_starts()
    {
        var course = WarmthCourse.Along(Cardinals, [Sample(-0.5, 40), Sample(-0.02, 20), Sample(0.02, 20), Sample(0.06, 20)],
            Until(0.06), TwoHours);

        Assert.Equal(0.06 * 24 * 12.4, course.Total.CelsiusHours, 1e-6);
    }

    [Fact]
    public void A_course_of_no_length_has_no_warm_hours() =>
        Assert.Equal(0, WarmthCourse.Along(Cardinals, [Sample(0, 20)], Until(0), TwoHours).Total.CelsiusHours);

    internal static HourOfDayProfile Usual(Func<int, double> celsius) =>
        new(DateTimeZone.ForOffset(Offset.FromHours(-8)),
            [.. Enumerable.Range(0, 24).Select(hour => (HourOfDay?)new HourOfDay(Celsius(celsius((hour) % 24)), 1, 7))]);

    private static Interval Until(double days) => new(Start, AfterDays(days));
}
