using Chamber.Core.Batches;
using Chamber.Core.Chores;
using Chamber.Core.Climate;
using Chamber.Core.Digests;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Digests;

/// <summary>What a digest says of an invented home.</summary>
public class DailyDigestTests
{
    private static readonly DateTimeZone Berlin = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly Instant Now = Instant.FromUtc(2027, 3, 3, 6, 30);
    private static readonly SpotId Shelf = new("shelf");

    [Fact]
    public void A_quiet_day_says_so_and_nothing_else()
    {
        var text = DailyDigest.Of(new() { Now = Now, Zone = Berlin });
        Assert.Equal(new("Wed 3 Mar: nothing to do", "", "", "", "", "", ""), text);
    }

    [Fact]
    public void What_needs_a_hand_comes_first_and_what_is_far_off_is_left_out()
    {
        var text = DailyDigest.Of(new()
        {
            Now = Now,
            Zone = Berlin,
            Reminders = [Look("T1", 2), Look("T2", 3), Look("P1", 5), Look("P2", 6)],
            Open = [new("Too cold on shelf", "", "", "Move it.")],
        });
        Assert.Equal("Wed 3 Mar: 2 things to do, 1 alert is open", text.Title);
        Assert.Equal("T1: Look.\nT2: Look.", text.ToDo);
        Assert.Equal("Fri 5 Mar, P1: Look.", text.Coming);
        Assert.Equal("Too cold on shelf. Move it.", text.Alerts);
    }

    [Theory]
    [InlineData(TemperatureScale.Celsius, "shelf: 18 to 26 °C, mean 22 °C.")]
    [InlineData(TemperatureScale.Fahrenheit, "shelf: 64 to 79 °F, mean 72 °F.")]
    public void A_spot_is_told_in_the_unit_of_the_home(TemperatureScale scale, string line)
    {
        var trace = TemperatureTrace.Of([new(Now - Duration.FromHours(24), Temperature.FromCelsius(18)),
            new(Now, Temperature.FromCelsius(26))], Duration.FromHours(25));
        var text = DailyDigest.Of(
            new() { Now = Now, Zone = Berlin, Scale = scale, Spots = [(Shelf, SpotDay.Of(Shelf, trace, Berlin)), (new("sill"), null)] });
        Assert.Equal($"{line}\nsill: nothing was measured.", text.Spots);
    }

    [Fact]
    public void A_day_with_gaps_says_how_much_of_it_was_measured()
    {
        var trace = TemperatureTrace.Of(
            [new(Now - Duration.FromHours(3), Temperature.FromCelsius(20)), new(Now, Temperature.FromCelsius(20))], Duration.FromHours(25));
        Assert.Equal("shelf: 20 to 20 °C, mean 20 °C (3 h measured).",
            DailyDigest.Of(new() { Now = Now, Zone = Berlin, Spots = [(Shelf, SpotDay.Of(Shelf, trace, Berlin))] }).Spots);
    }

    [Fact]
    public void What_nobody_watched_is_told_in_local_time()
    {
        var text = DailyDigest.Of(new() { Now = Now, Zone = Berlin,
            NotWatched = [new(Now - Duration.FromHours(5), Now - Duration.FromHours(1)), new(Now - Duration.FromMinutes(10), null)] });
        Assert.Equal("02:30 to 06:30.\n07:20 to now.", text.NotWatched);
    }

    [Fact]
    public void Time_without_a_watch_is_told_with_what_the_spots_reached()
    {
        var night = new Interval(Instant.FromUtc(2027, 3, 3, 1, 10), Instant.FromUtc(2027, 3, 3, 5, 40));
        Assert.Equal("I was not watching from 02:10 to 06:40", Absence.Title(night, Berlin));
        Assert.Equal("I was not watching from Tue 2 Mar 23:00 to Wed 3 Mar 06:40",
            Absence.Title(new(Instant.FromUtc(2027, 3, 2, 22, 0), night.End), Berlin));
        var reached = new SpotReach(Shelf, Temperature.FromCelsius(21), Temperature.FromCelsius(34));
        Assert.Equal("shelf reached 34 °C, and was never below 21 °C.\nOf one other spot nothing is known.",
            Absence.Body([reached], 1, TemperatureScale.Celsius));
        Assert.Equal("shelf reached 93 °F, and was never below 70 °F.", Absence.Body([reached], 0, TemperatureScale.Fahrenheit));
        Assert.Equal("Nothing is known of that time: no reading of it has come in yet.", Absence.Body([], 2, TemperatureScale.Celsius));
    }

    private static Reminder Look(string batch, int day) =>
        new(new BatchId(batch), ReminderKind.Look, new(2027, 3, day), new(2027, 3, day), "Look.");
}
