using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Crops;

namespace Chamber.Core.Tests.Alerts;

/// <summary>What alerts rest on: readings that came, and one number for what a batch has lost.</summary>
public sealed class AlertEvidenceTests
{
    private const string HotMat = """
        crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=98 30=98 35=49 45=0
        spot mat is a heat mat, dim
        probe soil measures media on mat
        sow T1: 12 tomato in covered mix on mat
        00:00 to 09:50 every 10 min: soil reads exactly 25
        10:00 to 19:50 every 10 min: soil reads exactly 35
        20:00 to 21:00 every 10 min: soil reads 45
        """;

    public static TheoryData<string> Scripts => [.. WatchScriptFiles.All];

    // "35.0 °C there at 15:07" is no evidence when nothing came at 15:07.
    [Theory]
    [MemberData(nameof(Scripts))]
    public void The_time_that_is_told_with_a_temperature_is_that_of_a_reading(string name)
    {
        var script = WatchScript.Parse(name, WatchScriptFiles.Read(name), catalog: CropCatalog.Shipped.Find);
        if (script.Facts.Calibrations.Count > 0)
        {
            return;
        }

        var came = script.Readings.Where(reading => reading.Temperature is not null)
            .ToLookup(reading => (reading.Probe, reading.MeasuredAt), reading => reading.Temperature!.Value.Celsius);
        Assert.All(Told(script).Where(alert => alert.Kind == AlertKind.TooCold || alert.Kind == AlertKind.TooHot
            || alert.Kind == AlertKind.Hazard), alert => Assert.Contains(
            came[(alert.Evidence.Probe!.Value, alert.Evidence.To)],
            celsius => Math.Abs(celsius - alert.Evidence.Find(FigureName.LatestCelsius)!.Value) < 1e-9));
    }

    [Fact]
    public void A_batch_has_lost_one_share_of_its_seed_whatever_the_alert()
    {
        var open = WatchScript.Parse("mat", HotMat)
            .Run().Alerts.Where(alert => alert.IsOpen && (alert.Kind == AlertKind.TooHot || alert.Kind == AlertKind.Hazard)).ToList();
        Assert.Equal(2, open.Count);

        // Ten hours at 25 °C, ten at 35 °C and one at 45 °C are 30.7 °C in the middle, a seventh of the way from 98 % to 49 %.
        var lost = open.Select(alert => Assert.Single(alert.Harm).ShareLost).ToList();
        Assert.Equal(0.5 * ((10 * 25 + 10 * 35 + 45) / 21.0 - 30) / 5, lost[0], 0.01);
        Assert.Equal(lost[0], lost[1]);
        Assert.All(open, alert => Assert.True(alert.Harm[0].ShareAtStake > lost[0]));
    }

    [Fact]
    public void What_a_batch_has_lost_goes_with_it_to_another_spot()
    {
        var moved = WatchScript.Parse("move", $"{HotMat}\nspot top is a heat mat, dim\nprobe other measures media on top\n21:00: move T1 "
            + $"to top\n21:00 to day 2 03:00 every 10 min: other reads exactly 35");
        var lost = Assert.Single(Assert.Single(moved.Run().Alerts, alert => alert.IsOpen && alert.Kind == AlertKind.TooHot).Harm).ShareLost;

        // Three more hours at 35 °C fill its first day, 31.25 °C in the middle; three of the next day cost half.
        Assert.Equal((24 * 0.125 + 3 * 0.5) / 27, lost, 0.01);
    }

    private static IEnumerable<Alert> Told(WatchScript script) => script.Run().Events.Select(said => said.Event switch
    {
        AlertOpened { Alert: var alert } => alert,
        AlertWorsened { Alert: var alert } => alert,
        AlertClosed { Alert: var alert } => alert,
        _ => null,
    }).OfType<Alert>();
}
