using Chamber.Service.Notify;
using NodaTime;

namespace Chamber.Service.Tests.Notify;

/// <summary>Times are invented.</summary>
public class DigestClockTests
{
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    [Theory]
    [InlineData(7, 29, null)]
    [InlineData(7, 30, "2027-03-03")]
    [InlineData(13, 29, "2027-03-03")]
    [InlineData(13, 30, null)]
    public void It_is_due_from_its_hour_on_and_not_when_it_is_old_news(int hour, int minute, string? day) =>
        Assert.Equal(day, Due(new(7, 30), new LocalDateTime(2027, 3, 3, hour, minute)));

    [Fact]
    public void A_late_digest_may_pass_midnight() => Assert.Equal("2027-03-02", Due(new(22, 0), new LocalDateTime(2027, 3, 3, 1, 0)));

    // Germany, 28 March 2027: 02:30 does not exist; 31 October 2027: it comes twice (tz database).
    [Fact]
    public void The_nights_of_the_clock_change_have_one_digest_each()
    {
        Assert.Equal("2027-03-28", Due(new(2, 30), new LocalDateTime(2027, 3, 28, 3, 30)));
        var days = Enumerable.Range(0, 24 * 60).Select(minute => Instant.FromUtc(2027, 10, 30, 22, 0) + Duration.FromMinutes(minute))
            .Select(now => DigestClock.DueOn(new(2, 30), Berlin, now)).OfType<LocalDate>().Distinct();
        Assert.Equal([new LocalDate(2027, 10, 31)], days);
    }

    private static string? Due(LocalTime at, LocalDateTime now) =>
        DigestClock.DueOn(at, Berlin, now.InZoneLeniently(Berlin).ToInstant()) is { } day
        ? NodaTime.Text.LocalDatePattern.Iso.Format(day)
        : null;
}
