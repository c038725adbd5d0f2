using Chamber.Core.Alerts.Conditions.Drifting;

namespace Chamber.Core.Tests.Alerts.Conditions.Drifting;

/// <summary>
/// Drift on simulated spots. The bounds (one false alarm a month, 1.5 K found in two days nine times in ten) are the program's own
/// promise, no source.
/// </summary>
public sealed class DriftTests
{
    [Theory]
    [InlineData(OrdinarySpot.DailyDeviation, OrdinarySpot.WeekendKelvins)]
    [InlineData(0.35, OrdinarySpot.WeekendKelvins)]
    [InlineData(OrdinarySpot.DailyDeviation, 0.8)]
    public void Two_years_of_an_ordinary_spot_raise_at_most_one_false_alarm_a_month(double daily, double weekend)
    {
        for (var seed = 0; seed < 20; seed++)
        {
            var found = Alarms(OrdinarySpot.Hours(new(seed), 730, daily, weekend)).Count;
            Assert.True(found <= 24, $"seed {seed}: {found} false alarms in 24 months");
        }
    }

    [Theory]
    [InlineData(OrdinarySpot.DailyDeviation, OrdinarySpot.WeekendKelvins)]
    [InlineData(0.35, OrdinarySpot.WeekendKelvins)]
    [InlineData(OrdinarySpot.DailyDeviation, 0.8)]
    public void A_shift_of_1_5_degrees_is_found_within_two_days_nine_times_in_ten(double daily, double weekend)
    {
        const int trials = 400;
        var found = 0;
        for (var seed = 0; seed < trials; seed++)
        {
            var random = new Random(1000 + seed);
            found += IsFound(OrdinarySpot.Hours(random, 60, daily, weekend), 24 * 30 + random.Next(20 * 24), seed % 2 == 0 ? 1.5 : -1.5)
                ? 1 : 0;
        }

        Assert.True(found >= 0.9 * trials, $"{found} of {trials} found");
    }

    [Fact]
    public void What_creeps_is_found_by_the_sum_though_no_hour_is_a_step()
    {
        var found = 0;
        for (var seed = 0; seed < 40; seed++)
        {
            var hours = OrdinarySpot.Hours(new(seed), 40);
            for (var hour = 720; hour < hours.Length; hour++)
            {
                hours[hour] += Math.Min(3, (hour - 720) / 24.0);
            }

            found += Alarms(hours).Exists(hour => hour is >= 720 and < 720 + 5 * 24) ? 1 : 0;
        }

        Assert.True(found >= 36, $"{found} of 40 found");
    }

    [Fact]
    public void A_steady_spot_is_silent_and_its_usual_follows_the_season()
    {
        var drift = new DriftState();
        for (var hour = 0; hour < 2 * 8760; hour++)
        {
            Assert.False(
                drift.Add(hour % 24, 22 + 3 * Math.Sin(2 * Math.PI * (hour % 24) / 24) + 2.5 * Math.Sin(2 * Math.PI * hour / 8760)));
            Assert.InRange(drift.Residual, -0.6, 0.6);
        }
    }

    /// <summary>Whether a lasting shift is found within two days.</summary>
    private static bool IsFound(double[] hours, int start, double kelvins)
    {
        var shifted = hours.Take(start + 48).Select((celsius, hour) => celsius + (hour >= start ? kelvins : 0)).ToArray();
        return Alarms(shifted).Exists(hour => hour >= start);
    }

    private static List<int> Alarms(double[] hours)
    {
        var drift = new DriftState();
        var alarms = new List<int>();
        for (var hour = 0; hour < hours.Length; hour++)
        {
            if (drift.Add(hour % 24, hours[hour]))
            {
                alarms.Add(hour);
            }
            else if (drift.IsShifted && Math.Abs(drift.MeanResidual(12)) < DriftState.GoneKelvins)
            {
                drift.Settle();
            }
            else if (drift.IsShifted && hour - alarms[^1] >= 5 * 24)
            {
                drift.TakeAsUsual();
            }
        }

        return alarms;
    }
}
