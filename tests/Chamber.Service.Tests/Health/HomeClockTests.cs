using Chamber.Service.Health;
using Chamber.Service.Tests.Rig;
using NodaTime;

namespace Chamber.Service.Tests.Health;

/// <summary>The time of a home over a machine's clock that is never set, set late, or put back. Times are invented.</summary>
public sealed class HomeClockTests
{
    private static readonly Instant Known = Instant.FromUtc(2026, 3, 4, 12, 0);

    private readonly SetClock machine = new() { Time = Known };

    [Fact]
    public void A_clock_that_was_never_set_is_counted_on_from_what_is_known()
    {
        machine.Time = Instant.FromUtc(1970, 1, 1, 0, 0);
        var clock = Clock();
        clock.KnowPast(Known);
        machine.Pass(Duration.FromMinutes(5));
        Assert.Equal(Known + Duration.FromMinutes(5), Now(clock));
        Assert.True(clock.IsDoubted);
        Assert.Contains("Thu 1 Jan 1970", clock.Trouble!.What, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_anything_known_it_is_the_earliest_time_there_can_be()
    {
        machine.Time = Instant.FromUtc(1970, 1, 1, 0, 0);
        Assert.Equal(Instant.FromUtc(2025, 1, 1, 0, 0), Now(Clock()));
    }

    [Fact]
    public void One_that_falls_back_to_1970_goes_on_from_the_last_look()
    {
        var clock = Clock();
        Assert.Null(clock.Look());
        machine.Pass(Duration.FromMinutes(1));
        Assert.Null(clock.Look());
        machine.Pass(Duration.FromSeconds(30));
        machine.Time = Instant.FromUtc(1970, 1, 1, 0, 0);
        machine.Pass(Duration.FromSeconds(30));
        Assert.Equal(Known + Duration.FromMinutes(2), Now(clock));
        Assert.Null(clock.Look());
        Assert.Equal("This machine's clock is wrong", clock.Trouble?.Title);
    }

    [Fact]
    public void When_a_time_service_has_set_it_the_time_skipped_is_said()
    {
        machine.Time = Instant.FromUtc(1970, 1, 1, 0, 0);
        var clock = Clock();
        clock.KnowPast(Known);
        Assert.Null(clock.Look());
        machine.Pass(Duration.FromMinutes(1));
        machine.Time = Known + Duration.FromHours(9);
        Assert.Equal(new ClockStep(Known + Duration.FromMinutes(1), Known + Duration.FromHours(9)), clock.Look());
        Assert.Null(clock.Trouble);
        Assert.Contains("Wed 4 Mar 2026 21:00", clock.Stepped, StringComparison.Ordinal);
        machine.Pass(Duration.FromMinutes(61));
        Assert.Null(clock.Stepped);
    }

    [Fact]
    public void Put_back_it_is_believed_and_told_until_the_time_has_come_again()
    {
        var clock = Clock();
        Assert.Null(clock.Look());
        machine.Time = Known - Duration.FromHours(3);
        Assert.Equal(new ClockStep(Known, Known - Duration.FromHours(3)), clock.Look());
        Assert.Equal(Known - Duration.FromHours(3), Now(clock));
        Assert.Contains("up to Wed 4 Mar 2026 12:00", clock.Trouble!.What, StringComparison.Ordinal);
        machine.Pass(Duration.FromHours(3));
        Assert.Null(clock.Trouble);
    }

    [Fact]
    public void At_a_start_a_time_before_what_is_recorded_is_told()
    {
        var clock = Clock();
        clock.KnowPast(Known + Duration.FromHours(1));
        Assert.Equal("This machine's clock is behind what is recorded", clock.Trouble!.Title);
    }

    [Theory]
    [InlineData(119)]
    [InlineData(-119)]
    public void Less_than_two_minutes_needs_no_word(int seconds)
    {
        var clock = Clock();
        Assert.Null(clock.Look());
        machine.Time += Duration.FromSeconds(seconds);
        Assert.Null(clock.Look());
        Assert.Null(clock.Trouble);
    }

    private static Instant Now(HomeClock clock) => Instant.FromDateTimeOffset(clock.GetUtcNow());

    private HomeClock Clock() => new(machine, DateTimeZone.Utc);
}
