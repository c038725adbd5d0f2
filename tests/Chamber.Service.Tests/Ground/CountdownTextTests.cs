using NodaTime;

namespace Chamber.Service.Tests.Ground;

/// <summary>Days of the calendar by hand.</summary>
public class CountdownTextTests
{
    // A Wednesday.
    private static readonly LocalDate Today = new(2026, 11, 25);

    [Theory]
    [InlineData(1, 3, "tomorrow to Saturday")]
    [InlineData(1, 1, "tomorrow")]
    [InlineData(2, 4, "Friday to Sunday")]
    [InlineData(2, 9, "Fri 27 Nov to Fri 4 Dec")]
    [InlineData(0, 0, "today")]
    [InlineData(-2, 0, "today")]
    [InlineData(-2, 1, "today or tomorrow")]
    [InlineData(-2, 3, "any day now, by Saturday")]
    [InlineData(-9, -2, "was due by Mon 23 Nov")]
    [InlineData(40, 60, "Mon 4 Jan 2027 to Sun 24 Jan 2027")]
    public void Days_to_come_are_said_as_people_say_them(int low, int high, string words) =>
        Assert.Equal(words, CountdownText.Days(Today.PlusDays(low), Today.PlusDays(high), Today));

    [Fact]
    public void Without_an_end_it_says_so() => Assert.Equal("Friday or later", CountdownText.Days(Today.PlusDays(2), null, Today));
}
