using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Conditions.Drifting;

/// <summary>What a drift means for the batches on the spot: by how much they come up later, or what share of their seed they stand to
/// lose.</summary>
public sealed class DriftHarmTests
{
    [Fact]
    public void A_spot_that_grew_cooler_says_by_how_much_its_batch_comes_up_later()
    {
        var watch = Live("sow T1: 12 tomato in covered mix on shelf", 21);
        var alert = Drift(watch);

        // Warmth counts above the base of 7.6 °C: from 24 to 21 °C the speed falls by 3 of the 17.4 K that the best of 25 °C has, for 48 h.
        var harm = Assert.Single(alert.Harm);
        Assert.Equal(48 * 3 / 17.4, harm.DelayHours, 0.5);
        Assert.Equal(0, harm.ShareLost);
    }

    [Fact]
    public void A_spot_grown_too_warm_says_what_share_of_the_seed_may_be_lost()
    {
        var harm = Assert.Single(Drift(Live("sow T1: 12 tomato in covered mix on shelf", 35)).Harm);
        Assert.Equal(1 - 46 / 98.0, harm.ShareAtStake, 0.02);
        Assert.Equal((1 - 46 / 98.0) * 48 / (9 * 24 + 48), harm.ShareLost, 0.02);
    }

    [Fact]
    public void Seedlings_that_are_up_lose_nothing_by_a_cooler_spot() =>
        Assert.Empty(
            Drift(Live("sow T1: 12 tomato in covered mix on shelf", 21,
            looked: "day 8 08:00: look at T1, 3 up\nday 8 08:10: uncover T1")).Harm);

    [Fact]
    public void What_was_told_last_stays_with_the_alert_when_it_is_over()
    {
        var watch = Live("sow T1: 12 tomato in covered mix on shelf", 21, "day 12 00:30 to day 14 00:00 every 30 min: air reads 24");
        var closed = Assert.Single(watch.Alerts(), alert => !alert.IsOpen && alert.Kind == AlertKind.Drifting);
        Assert.InRange(Assert.Single(closed.Harm).DelayHours, 48 * 3 / 17.4 - 0.5, 60 * 3 / 17.4);
    }

    private static Alert Drift(HomeWatch watch) => Assert.Single(watch.Open(), alert => alert.Kind == AlertKind.Drifting);

    private static HomeWatch Live(string story, double celsius, string after = "", string looked = "")
    {
        var script = WatchScript.Parse("harm", string.Create(System.Globalization.CultureInfo.InvariantCulture, $"""
            crop tomato base 7.6 best 25 to 29 ceiling 40 cool 10 hot 36 stand 20=98 25=98 30=98 35=46
            spot shelf is a appliance top, bright
            spot mat is a heat mat, dim
            probe air measures air on shelf
            probe soil measures media on mat
            {story}
            day 1 00:00 to day 14 00:00 every 30 min: soil reads 25
            day 1 00:00 to day 10 00:00 every 30 min: air reads 24
            {looked}
            day 10 00:30 to day 12 00:00 every 30 min: air reads {celsius}
            {after}
            """));
        var watch = new HomeWatch(script.Facts);
        foreach (var hour in script.Readings.GroupBy(reading => reading.MeasuredAt.ToUnixTimeTicks() / NodaConstants.TicksPerHour))
        {
            watch.Step([.. hour], hour.Max(reading => reading.MeasuredAt));
        }

        return watch;
    }
}
