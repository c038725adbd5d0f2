using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Scripts;
using Chamber.Core.Alerts.Watching;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Alerts;

/// <summary>Limits that somebody has chosen for one batch or one spot. Temperatures are invented.</summary>
public sealed class OwnLimitsTests
{
    private static readonly ProbeId Soil = new("soil");

    // The crop's own limits are 16.1 and 30.6 °C.
    private readonly HomeFacts facts = WatchScript.Parse("home", """
        crop tomato base 7.6 best 25 to 29 ceiling 40 cool 16.1 hot 30.6 stand 20=98 25=97 30=83 35=46
        spot mat is a heat mat, dark
        probe soil measures media on mat, silent after 30 min
        sow T1: 12 tomato in covered mix on mat
        """).Facts;

    private static OwnLimits Spot(double? hot, double? cold) => new(FactSubject.Of(new SpotId("mat")), hot, cold);

    private static OwnLimits Batch(double? hot, double? cold) => new(new(FactSubjectKind.Batch, "T1"), hot, cold);

    [Fact]
    public void A_spot_is_too_hot_by_its_own_limit()
    {
        Assert.Empty(Limits(29));
        Assert.Equal([AlertKind.TooHot], Limits(29, Spot(28, null)));
        Assert.Empty(Limits(31.5, Spot(33, null)));
        Assert.Equal([AlertKind.TooHot], Limits(31.5));
    }

    [Fact]
    public void A_batch_is_too_cold_by_its_own_limit_within_an_hour()
    {
        Assert.Empty(Limits(19));
        Assert.Equal([AlertKind.TooCold], Limits(19, Batch(null, 20)));
        Assert.Empty(Limits(19, Batch(null, 18)));
    }

    [Fact]
    public void The_limit_of_a_batch_goes_before_that_of_its_spot()
    {
        Assert.Empty(Limits(29, Spot(28, null), Batch(30, null)));
        Assert.Equal([AlertKind.TooCold], Limits(19, Spot(28, 15), Batch(null, 20)));
    }

    [Fact]
    public void An_alert_says_that_the_limit_is_ones_own()
    {
        var own = facts with { OwnLimits = [Spot(28, null)] };
        Assert.Contains("above your own limit of 28.0 °C", Said(own, 29), StringComparison.Ordinal);
        Assert.Contains("above 30.6 °C", Said(facts, 32), StringComparison.Ordinal);
        Assert.Contains("below your own limit of 20.0 °C since", Said(facts with { OwnLimits = [Batch(null, 20)] }, 19),
            StringComparison.Ordinal);
    }

    private List<AlertKind> Limits(double celsius, params OwnLimits[] own) =>
        [.. Watched(facts with { OwnLimits = own }, celsius).Open().Select(alert => alert.Kind)];

    private static string Said(HomeFacts facts, double celsius) =>
        Core.Alerts.Conditions.ConditionRegistry.InWords(Watched(facts, celsius).Open()[0], facts, new(false, DateTimeZone.Utc)).What;

    private static HomeWatch Watched(HomeFacts facts, double celsius)
    {
        var watch = new HomeWatch(facts);
        var start = facts.Stations[0].When.Start;
        for (var minute = 0; minute <= 90; minute += 5)
        {
            var at = start + Duration.FromMinutes(minute);
            watch.Step([new Reading(Soil, at, at, Temperature.FromCelsius(celsius))], at);
        }

        return watch;
    }
}
