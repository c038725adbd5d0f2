using NodaTime;

namespace Chamber.Service.Tests.Ground;

/// <summary>Times and lengths of time by hand and by the tz database.</summary>
public class WordsTests
{
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 1, 8, 0);

    [Theory]
    [InlineData("30s", 30)]
    [InlineData("90min", 5400)]
    [InlineData("1.5h", 5400)]
    [InlineData("2 d", 172800)]
    public void A_length_of_time_has_its_unit(string text, int seconds) =>
        Assert.Equal(Duration.FromSeconds(seconds), DurationText.Parse(text));

    [Theory]
    [InlineData("90", "\"90\" is not a length of time: write a number and its unit, such as 30min, 2h or 3d.")]
    [InlineData("0h", "\"0h\" is not a usable length of time: it must be longer than zero and shorter than 300 years.")]
    public void A_length_without_unit_or_without_length_is_refused(string text, string message) =>
        Assert.Equal(message, Assert.Throws<FormatException>(() => DurationText.Parse(text)).Message);

    [Theory]
    [InlineData("07:40", "2026-03-01T06:40:00Z")]
    [InlineData("09:30", "2026-02-28T08:30:00Z")]
    [InlineData("2026-02-20", "2026-02-20T11:00:00Z")]
    [InlineData("today", "2026-03-01T08:00:00Z")]
    [InlineData("2026-02-20 07:40", "2026-02-20T06:40:00Z")]
    [InlineData("2026-02-20T07:40:00+02:00", "2026-02-20T05:40:00Z")]
    [InlineData("20.2.2026", "2026-02-20T11:00:00Z")]
    [InlineData("20.2.2026 07:40", "2026-02-20T06:40:00Z")]
    [InlineData("20 Feb", "2026-02-20T11:00:00Z")]
    [InlineData("20. February 2026", "2026-02-20T11:00:00Z")]
    [InlineData("24.12.", "2025-12-24T11:00:00Z")]
    [InlineData("yesterday 07:40", "2026-02-28T06:40:00Z")]
    public void A_time_is_read_in_the_homes_zone(string text, string expected) =>
        Assert.Equal(expected, TimeText.Parse(text, Zone, Now).ToString());

    [Fact]
    public void A_time_that_is_none_is_refused_with_the_forms_that_work() =>
        Assert.Equal(
            "\"noonish\" is not a time: write 07:40, 2026-03-01, \"2026-03-01 07:40\" or 2026-03-01T07:40:00Z.",
            Assert.Throws<FormatException>(() => TimeText.Parse("noonish", Zone, Now)).Message);

    [Theory]
    [InlineData("17.5.2027", "2027-05-17")]
    [InlineData("17 May", "2026-05-17")]
    [InlineData("8.1.", "2027-01-08")]
    [InlineData("tomorrow", "2026-03-02")]
    [InlineData("2027-05-17", "2027-05-17")]
    public void A_day_is_read_as_people_write_it(string text, string day) =>
        Assert.Equal(day, DayText.Parse(text, new(2026, 3, 1)).ToString("uuuu-MM-dd", null));

    [Theory]
    [InlineData("8/11/2026", "\"8/11/2026\" can be read in two ways: write 2027-05-17, 17.5.2027 or \"17 May 2027\".")]
    [InlineData("31.2.2027", "\"31.2.2027\" is not a day: write 2027-05-17, 17.5.2027 or \"17 May 2027\".")]
    [InlineData("soon", "\"soon\" is not a day: write 2027-05-17, 17.5.2027 or \"17 May 2027\".")]
    public void A_day_that_is_none_or_two_is_refused(string text, string message) =>
        Assert.Equal(message, Assert.Throws<FormatException>(() => DayText.Parse(text, new(2026, 3, 1))).Message);

    [Fact]
    public void Days_and_dates_are_said_as_an_answer_with_its_interval()
    {
        Assert.Equal("6.2 days, likely 5 to 8.1", RangeText.Days(5, 6.2, 8.1));
        Assert.Equal("Thu 5 Mar to Sat 7 Mar", RangeText.Dates(new(2026, 3, 5), new(2026, 3, 7), new(2026, 3, 1)));
    }
}
