using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>What people read: what, since when, how bad for the batch, what to do.</summary>
public sealed class AlertWordsTests
{
    private const string Sill = """
        spot sill is a sill, bright
        probe soil measures media on sill
        sow T1: 12 tomato in covered mix on sill
        08:00 to 11:50 every 10 min: soil reads 22
        """;

    private static readonly string SillCaution = $"Caution: {CautionBook.Sill.Full} {CautionText.Deference}";

    // By hand: four hours at 22 and eight at 37 °C are 32.1 °C in the middle, above the ceiling of 27 % of the seeds (34.25 ± 3.5 °C).
    // At 37 °C the middle one of those left has its ceiling at 38.6 °C and is slowed over 3 K, to 0.53: 3.8 of eight hours are lost.
    [Fact]
    public void Heat_before_emergence_is_told_in_days_of_delay_and_share_of_seed() => Assert.Equal(
        "Too hot on sill. 37.0 °C there at Mon 2 Mar 20:00, above 31.4 °C since Mon 2 Mar 12:00, at worst 37.0 °C. "
        + "T1 (tomato) comes up about 3.8 h later by it, has lost about 27 % of its seed to the temperature so far and will lose most of "
            + "its seed if it stays so. "
        + "Raise it on slats, open the lid a crack, or move it somewhere cooler. " + SillCaution,
        Words(AlertKind.TooHot, $"{Sill}\n12:00 to 20:00 every 10 min: soil reads 37"));

    // After the Univ. of Delaware Extension's table of transplant temperatures tomatoes are grown on at 65 to 75 °F by day.
    [Fact]
    public void Heat_after_emergence_is_told_by_the_limit_of_seedlings() => Assert.Equal(
        "Too hot for seedlings on sill. 36.0 °C there at Mon 2 Mar 15:00, above 33.9 °C since Mon 2 Mar 12:00, at worst 36.0 °C. "
        + "T1 (tomato) is up: seedlings wilt and scorch in such heat, or grow long and soft; by day they do best at 18.3 to 23.9 °C. "
        + "Take the lid off, and shade them or move them somewhere cooler and bright. " + SillCaution,
        Words(AlertKind.TooHot, $"{Sill}\n10:00: look at T1, 3 up\n12:00 to 15:00 every 10 min: soil reads 36"));

    [Fact]
    public void The_same_is_told_in_degrees_Fahrenheit() => Assert.StartsWith(
        "Too hot for seedlings on sill. 97 °F there at Mon 2 Mar 15:00, above 93 °F since Mon 2 Mar 12:00, at worst 97 °F. "
        + "T1 (tomato) is up: seedlings wilt and scorch in such heat, or grow long and soft; by day they do best at 65 to 75 °F.",
        Words(AlertKind.TooHot, $"{Sill}\n10:00: look at T1, 3 up\n12:00 to 15:00 every 10 min: soil reads 36", fahrenheit: true),
        StringComparison.Ordinal);

    [Theory]
    [InlineData("cold spot", "Its spot was too cold for too long. Dig one seed up: firm, move the rest to a warmer spot; soft, "
        + "sow again there.")]
    [InlineData("wrong temperature",
        "Its spot was too hot: in such heat much of sound seed does not come up. Sow again on a spot nearer its ideal band.")]
    [InlineData("weak lot", "Its lot is old or weak: fewer than 60 in 100 were expected from the start. Sow again from a fresher lot "
        + "or several times as thickly, and test the rest of this lot first.")]
    [InlineData("too hot", "Its spot was too hot: in such heat much of sound seed does not come up. Sow again on a spot nearer "
        + "its ideal band.")]
    [InlineData("dried out", "It dried out. Sow again, covered, and look every day whether it is damp.")]
    [InlineData("not measured", "For much of the time nothing was measured, so nobody can say why. Dig one seed up: firm, give it a few "
        + "days more; soft or hollow, sow again or use its room for something else.")]
    [InlineData("late", "Warmth and lot were good enough: it is simply late. Dig one seed up: firm, give it a few days more; soft or "
        + "hollow, sow again or use its room for something else.")]
    public void Why_to_stop_waiting_is_said_as_the_forecast_knows_it(string why, string words) => Assert.Equal(
        "T1: no more are likely to come. 3 up; since Sat 21 Mar 08:00 the chance of even one more is under 4 %. " + words
        + $" Caution: {CautionBook.Sill.Line} Tomato: leaves and stems are poisonous.",
        Words(AlertKind.StopWaiting,
            $"{Sill}\nday 6 18:00: look at T1, 3 up\nday 20 08:00: forecast T1 is over 4 by {why}\nday 20 08:00: expect nothing"));

    // 24 °C at 78 % has its dew point at 19.9 °C (WMO-No. 8, Annex 4.B).
    [Fact]
    public void Where_only_the_air_is_known_drying_is_told_with_its_dew_point_gap() => Assert.StartsWith(
        "Drying out on shelf. The air under the cover fell to 78 % from near saturation, since Tue 3 Mar 00:30, and lies 4.1 °C above its "
            + "dew point: the cover leaks or the media dries.",
        Words(AlertKind.DryingOut, """
            spot shelf is a shelf, bright
            probe air measures air on shelf
            sow T1: 12 tomato in covered mix on shelf
            00:00 to day 2 00:00 every 30 min: air reads 24, humidity 98
            day 2 00:30 to day 2 06:00 every 30 min: air reads 24, humidity 78
            """),
        StringComparison.Ordinal);

    private static string Words(AlertKind kind, string story, bool fahrenheit = false)
    {
        var script = WatchScript.Parse("story", story, catalog: CropCatalog.Shipped.Find);
        var alert = Assert.Single(script.Run().Alerts, alert => alert.Kind == kind && alert.IsOpen);
        return ConditionRegistry.InWords(alert, script.Facts, new(fahrenheit, DateTimeZone.Utc)).ToString();
    }
}
