using Chamber.Core.Climate;
using NodaTime;
using static Chamber.Core.Tests.Climate.Traces;

namespace Chamber.Core.Tests.Climate;

/// <summary>Means and deviations are worked out by hand from the lines that the tests draw.</summary>
public sealed class HourOfDayProfileTests
{
    [Fact]
    public void Each_hour_has_its_mean_its_deviation_from_day_to_day_and_its_days()
    {
        // Hour h is h °C warmer than 10 on the first day, 2 K more on the second, 4 K more on the third.
        var samples = Every(1, 0, 72, hour => 10 + Math.Floor(hour % 24) + 2 * Math.Floor(hour / 24));
        var profile = HourOfDayProfile.From(samples, DateTimeZone.Utc, TwoHours);
        Assert.True(profile.IsComplete);
        var noon = profile.Hours[12]!.Value;
        Assert.Equal(24, noon.Mean.Celsius, 0.02);
        Assert.Equal(2, noon.Deviation, 1e-6);
        Assert.Equal(3, noon.Days);
    }

    [Fact]
    public void Hours_are_those_of_the_home()
    {
        var profile = HourOfDayProfile.From(Every(1, 0, 24, hour => hour < 12 ? 10 : 30), Berlin, TwoHours);
        Assert.Equal(10, profile.Hours[12]!.Value.Mean.Celsius, 0.2);
        Assert.Equal(30, profile.Hours[14]!.Value.Mean.Celsius, 0.01);
        Assert.Equal(30, profile.At(At(0, 13))!.Value.Mean.Celsius, 0.01);
    }

    [Fact]
    public void An_hour_that_was_hardly_measured_has_no_part()
    {
        var profile = HourOfDayProfile.From(Every(1, 0, 1.1, _ => 20), DateTimeZone.Utc, TwoHours);
        Assert.NotNull(profile.Hours[0]);
        Assert.Null(profile.Hours[1]);
        Assert.False(profile.IsComplete);
    }

    [Fact]
    public void Many_readings_in_one_minute_weigh_no_more_than_the_minute()
    {
        var crowd = Enumerable.Range(0, 600).Select(i => new TemperatureSample(At(0, 0.5 + i / 36000.0), Celsius(40)));
        var calm = new[] { new TemperatureSample(At(0), Celsius(20)), new(At(0, 0.499), Celsius(20)), new(At(0, 0.518), Celsius(20)),
            new(At(0, 1), Celsius(20)) };
        var profile = HourOfDayProfile.From(calm.Concat(crowd), DateTimeZone.Utc, TwoHours);
        Assert.Equal(20.35, profile.Hours[0]!.Value.Mean.Celsius, 0.05);
    }
}
