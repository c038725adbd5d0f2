using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>When to call somebody to look: the chances and hours are the program's own, no source.</summary>
public class LookReminderTests
{
    private static readonly DateTimeZone Zone = DateTimeZone.ForOffset(Offset.FromHours(1));
    private static readonly QuietHours Night = new(new LocalTime(21, 30), new LocalTime(7, 0));

    [Theory]
    [InlineData(0.35, 4, true)]
    [InlineData(0.35, 8, false)]
    [InlineData(0.45, 8, true)]
    [InlineData(0.45, 15, false)]
    [InlineData(0.55, 15, true)]
    public void A_fast_crop_is_looked_for_at_a_smaller_chance(double chance, double daysToHalf, bool due) =>
        Assert.Equal(due, LookReminder.IsDue(Question(chance, daysToHalf, 12)));

    [Theory]
    [InlineData(23, false)]
    [InlineData(3, false)]
    [InlineData(7, true)]
    [InlineData(21, true)]
    [InlineData(22, false)]
    public void Nobody_is_called_in_quiet_hours_that_run_over_midnight(int hour, bool due) =>
        Assert.Equal(due, LookReminder.IsDue(Question(0.9, 4, hour)));

    [Fact]
    public void Never_more_than_twice_on_one_day()
    {
        var once = Question(0.9, 3, 15) with { Reminders = [At(7)] };
        var twice = Question(0.9, 3, 20) with { Reminders = [At(7), At(7)] };

        Assert.True(LookReminder.IsDue(once));
        Assert.False(LookReminder.IsDue(twice));
    }

    [Fact]
    public void Somebody_who_has_just_looked_is_left_alone() =>
        Assert.False(LookReminder.IsDue(Question(0.9, 4, 15) with { LastLook = At(10) }));

    [Fact]
    public void Once_the_first_was_seen_there_is_nothing_to_look_for() =>
        Assert.False(LookReminder.IsDue(Question(1, 4, 12)));

    [Fact]
    public void Equal_ends_mean_no_quiet_hours() =>
        Assert.False(new QuietHours(new LocalTime(7, 0), new LocalTime(7, 0)).Hold(new LocalTime(7, 0)));

    private static Instant At(int hour) => new LocalDateTime(2026, 3, 3, hour, 0).InZoneStrictly(Zone).ToInstant();

    private static LookQuestion Question(double chance, double daysToHalf, int hour)
    {
        var time = new TimeEstimate(Duration.FromDays(daysToHalf), Duration.FromDays(daysToHalf), Duration.FromDays(daysToHalf), 0.99);
        var forecast = new EmergenceForecast(EmergenceEvent.ShootSeen, time, time, time, new(0.5, 0.8, 1), 6, 12, chance, 0.99,
            new(null, false));
        return new(forecast, At(hour).InZone(Zone), null, [], Night);
    }
}
