using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using NodaTime;
using Interval = NodaTime.Interval;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Climate.Warmth;

/// <summary>Laws of warm-hours over traces drawn at random: steps of seconds to hours, -5 to 45 °C, gaps on the way.</summary>
[Properties(Arbitrary = [typeof(WarmthLawTests)], MaxTest = 300)]
public sealed class WarmthLawTests
{
    private static readonly HourOfDayProfile Usual = HourOfDayProfile.From(Every(30, 0, 24, hour => 12 + hour), DateTimeZone.Utc, TwoHours);

    public sealed record Walk(TemperatureSample[] Samples, int Seed, double Cut);

    public static Arbitrary<Walk> Walks() => (
        from count in Gen.Choose(2, 40)
        from minutes in Gen.Choose(1, 400).ArrayOf(count)
        from tenths in Gen.Choose(-50, 450).ArrayOf(count)
        from seed in Gen.Choose(0, int.MaxValue - 1)
        from cut in Gen.Choose(0, 1000)
        select Build(minutes, tenths, seed, cut / 1000.0)).ToArbitrary();

    [Property]
    public void Sums_over_two_parts_equal_the_sum_over_the_whole(Walk walk)
    {
        var trace = TemperatureTrace.Of(walk.Samples, TwoHours);
        var (start, end) = (walk.Samples[0].At - Duration.FromHours(5), walk.Samples[^1].At + Duration.FromHours(5));
        var middle = start + (end - start) * walk.Cut;
        var whole = Sum(trace, start, end);
        var parts = Sum(trace, start, middle) + Sum(trace, middle, end);
        AssertSame(whole, parts);
        Assert.Equal(end - start, whole.MeasuredTime + whole.EstimatedTime + whole.UnknownTime);
    }

    [Property]
    public void The_days_add_up_to_the_total(Walk walk)
    {
        var report = WarmthFold.Over(TemperatureTrace.Of(walk.Samples, TwoHours), Limits, Berlin, Usual);
        AssertSame(report.Total, report.Days.Aggregate(default(WarmthSum), (sum, day) => sum + day.Sum));
        Assert.Equal(report.Days.Select(day => day.Date).Distinct().Order(), report.Days.Select(day => day.Date));
    }

    [Property]
    public void Warm_hours_never_fall_as_time_goes_on(Walk walk)
    {
        var trace = TemperatureTrace.Of(walk.Samples, TwoHours);
        var (start, end) = (walk.Samples[0].At, walk.Samples[^1].At);
        var middle = start + (end - start) * walk.Cut;
        Assert.True(Sum(trace, start, middle).Total.CelsiusHours <= Sum(trace, start, end).Total.CelsiusHours + 1e-6);
    }

    [Property]
    public void Order_and_duplicates_change_nothing(Walk walk)
    {
        var shuffled = walk.Samples.Concat(walk.Samples.Take(walk.Samples.Length / 2)).ToArray();
        new Random(walk.Seed).Shuffle(shuffled);
        var left = WarmthFold.Over(TemperatureTrace.Of(walk.Samples, TwoHours), Limits, Berlin, Usual);
        var right = WarmthFold.Over(TemperatureTrace.Of(shuffled, TwoHours), Limits, Berlin, Usual);
        Assert.Equal(left.Total, right.Total);
        Assert.Equal(left.Days, right.Days);
    }

    [Property]
    public void A_trace_gives_back_the_readings_it_was_made_of(Walk walk) =>
        Assert.Equal(walk.Samples, TemperatureTrace.Of(walk.Samples, TwoHours).Stretches.SelectMany(stretch => stretch.Samples));

    [Property]
    public void A_warmer_spot_below_the_plateau_never_gains_less(Walk walk)
    {
        var cool = walk.Samples.Select(sample => sample with { Temperature = Celsius(Math.Min(sample.Temperature.Celsius, 22)) });
        var warm = cool.Select(sample => sample with { Temperature = sample.Temperature + TemperatureDifference.FromKelvins(2) });
        var lower = WarmthFold.Over(TemperatureTrace.Of(cool, TwoHours), Limits, DateTimeZone.Utc).Total.Total;
        var upper = WarmthFold.Over(TemperatureTrace.Of(warm, TwoHours), Limits, DateTimeZone.Utc).Total.Total;
        Assert.True(lower.CelsiusHours <= upper.CelsiusHours + 1e-9);
    }

    [Property]
    public void Hourly_means_hold_all_of_the_measured_time_and_its_mean(Walk walk)
    {
        var trace = TemperatureTrace.Of(walk.Samples, TwoHours);
        var means = HourlyMeans.Of(trace, Berlin);
        Assert.Equal(trace.MeasuredTime.TotalHours, means.Sum(mean => mean.MeasuredHours), 1e-6);
        var area = trace.Stretches.Sum(stretch => stretch.Samples.Zip(stretch.Samples.Skip(1), (left, right) =>
            (right.At - left.At).TotalHours * (left.Temperature.Celsius + right.Temperature.Celsius) / 2).Sum());
        Assert.Equal(area, means.Sum(mean => mean.MeasuredHours * mean.Mean.Celsius), 1e-6);
    }

    private static WarmthSum Sum(TemperatureTrace trace, Instant from, Instant to) =>
        WarmthFold.Over(trace, new Interval(from, to), Limits, Berlin, Usual).Total;

    private static void AssertSame(WarmthSum left, WarmthSum right)
    {
        Assert.Equal(left.Measured.CelsiusHours, right.Measured.CelsiusHours, 1e-4);
        Assert.Equal(left.Estimated.CelsiusHours, right.Estimated.CelsiusHours, 1e-4);
        Assert.Equal(left.HoursBelow, right.HoursBelow, 1e-4);
        Assert.Equal(left.HoursAbove, right.HoursAbove, 1e-4);
        Assert.Equal(left.MeasuredTime, right.MeasuredTime);
        Assert.Equal(left.EstimatedTime, right.EstimatedTime);
        Assert.Equal(left.UnknownTime, right.UnknownTime);
    }

    private static Walk Build(int[] minutes, int[] tenths, int seed, double cut)
    {
        var at = At(84, 3.21);
        var samples = minutes.Zip(tenths, (step, tenth) =>
        {
            at += Duration.FromSeconds(step * (step % 3 == 0 ? 1 : 60));
            return new TemperatureSample(at, Celsius(tenth / 10.0));
        });
        return new([.. samples], seed, cut);
    }
}
