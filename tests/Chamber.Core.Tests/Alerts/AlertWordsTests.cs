using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
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

    [Fact]
    public void Heat_before_emergence_is_told_in_days_of_delay_and_share_of_seed() => Assert.Equal(
        "Too hot on sill. 35.0 °C there at Mon 2 Mar 15:00, above 30.6 °C since Mon 2 Mar 12:00, at worst 35.0 °C. "
        + "T1 (tomato) comes up about 60 min later by it, and stands to lose 53 % of its seed if it stays so. "
        + "Raise it on slats, open the lid a crack, or move it somewhere cooler. A shut lid in the sun cooks what is under it: open it.",
        Words(AlertKind.TooHot, $"{Sill}\n12:00 to 15:00 every 10 min: soil reads 35"));

    // After the Univ. of Delaware Extension's table of transplant temperatures tomatoes are grown on at 65 to 75 °F by day.
    [Fact]
    public void Heat_after_emergence_is_told_by_the_limit_of_seedlings() => Assert.Equal(
        "Too hot for seedlings on sill. 36.0 °C there at Mon 2 Mar 15:00, above 33.9 °C since Mon 2 Mar 12:00, at worst 36.0 °C. "
        + "T1 (tomato) is up: seedlings wilt and scorch in such heat, or grow long and soft; by day they do best at 18.3 to 23.9 °C. "
        + "Take the lid off, and shade them or move them somewhere cooler and bright. A shut lid in the sun cooks what is under it: open it.",
        Words(AlertKind.TooHot, $"{Sill}\n10:00: look at T1, 3 up\n12:00 to 15:00 every 10 min: soil reads 36"));

    [Fact]
    public void The_same_is_told_in_degrees_Fahrenheit() => Assert.StartsWith(
        "Too hot for seedlings on sill. 97 °F there at Mon 2 Mar 15:00, above 93 °F since Mon 2 Mar 12:00, at worst 97 °F. "
        + "T1 (tomato) is up: seedlings wilt and scorch in such heat, or grow long and soft; by day they do best at 65 to 75 °F.",
        Words(AlertKind.TooHot, $"{Sill}\n10:00: look at T1, 3 up\n12:00 to 15:00 every 10 min: soil reads 36", fahrenheit: true),
        StringComparison.Ordinal);

    private static string Words(AlertKind kind, string story, bool fahrenheit = false)
    {
        var script = WatchScript.Parse("story", story, catalog: CropCatalog.Shipped.Find);
        var alert = Assert.Single(script.Run().Alerts, alert => alert.Kind == kind && alert.IsOpen);
        return AlertWords.Of(alert, script.Facts, new(fahrenheit, DateTimeZone.Utc)).ToString();
    }
}
