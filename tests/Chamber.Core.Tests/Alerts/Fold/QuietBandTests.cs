using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Conditions;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Folding;
using Chamber.Core.Spots;
using FsCheck.Xunit;
using NodaTime;

namespace Chamber.Core.Tests.Alerts.Fold;

/// <summary>A line within the band that a condition calls quiet changes nothing, so that it need not be handed on.</summary>
public sealed class QuietBandTests
{
    private static readonly Moment Sown = Moment.Of(Instant.FromUtc(2026, 3, 2, 0, 0));
    private static readonly TimeSpan Step = TimeSpan.FromMinutes(10);

    [Fact]
    public void Conditions_that_follow_a_spot_are_found_by_what_they_override() =>
        Assert.Equal(
            ["TooCold", "TooHot", "Swinging", "WarmAndDark"],
            Followers(LocationOf(0, isUp: false)).Select(watch => watch.Condition.Kind.Name));

    [Property(MaxTest = 300)]
    public void Quiet_lines_that_are_left_out_change_no_alert(int seed, bool isUp)
    {
        var (whole, thinned) = (LocationOf(seed, isUp), LocationOf(seed, isUp));
        var random = new Random(seed);
        foreach (var (all, some) in Followers(whole).Zip(Followers(thinned)))
        {
            var skipped = Walk(new(random.Next()), whole, all, thinned, some);

            Assert.True(skipped > 0 || !isUp, $"{all.Condition.Kind.Name} is never quiet.");
        }

        Assert.Equal(Text(whole), Text(thinned));
        Assert.Equal(Costs(whole.Batches[0].Losses), Costs(thinned.Batches[0].Losses));
    }

    [Fact]
    public void No_band_holds_a_temperature_and_the_whole_one_holds_all()
    {
        Assert.False(QuietBand.None.Contains(0, 0));
        Assert.True(QuietBand.All.Contains(-200, 1000));
        Assert.False(new QuietBand(16, 30).Contains(20, 30.1));
        Assert.True(new QuietBand(16, 30).Contains(30, 16));
    }

    // Returns how many lines were left out.
    private static int Walk(Random random, LocationState whole, ConditionWatch all, LocationState thinned, ConditionWatch some)
    {
        var (skipped, last, drift) = (0, new TimedTemperature(Sown, Temperature.FromCelsius(23)), 0.0);
        for (var step = 0; step < 144 * 5; step++)
        {
            drift = Math.Clamp(drift + random.NextDouble() - 0.5, -1, 1);
            var celsius = Math.Clamp(last.Temperature.Celsius + drift, 5, 45);
            var now = new TimedTemperature(last.At + Step, Temperature.FromCelsius(celsius));
            all.Followed(whole.Batches[0], new(whole.Stations[0], last, now));
            if (some.QuietFor(thinned.Batches[0]).Contains(last.Temperature.Celsius, celsius))
            {
                skipped++;
            }
            else
            {
                some.Followed(thinned.Batches[0], new(thinned.Stations[0], last, now));
            }

            if (step % 6 == 5)
            {
                all.HourEnded(new(whole.Stations[0], now, step / 6 % 24, true));
                some.HourEnded(new(thinned.Stations[0], now, step / 6 % 24, true));
            }

            last = now;
        }

        return skipped;
    }

    private static IEnumerable<ConditionWatch> Followers(LocationState place)
    {
        ConditionWatch[] watches = [.. ConditionRegistry.Standard.Select(condition => condition.At(place)).OfType<ConditionWatch>()];
        foreach (var watch in new InputTable(watches).Followed.Of(watches))
        {
            place.Batches.ForEach(watch.Added);
            yield return watch;
        }
    }

    private static LocationState LocationOf(int seed, bool isUp)
    {
        var settings = new LocationSettings(
            ConditionRegistry.Standard, new WatchLimits(), DateTimeZone.Utc, OutageList.Of(Location.Of(new SpotId("shelf")), new()));
        var place = new LocationState(Location.Of(new SpotId("shelf")), settings, new(() => { }), _ => Moment.Beginning);
        var tomato = CropCatalog.Shipped.Require("tomato");
        var method = seed % 3 == 0 ? SowingMethod.DampTowel : SowingMethod.CoveredMix;
        var batch = new Batch(new("T1"), tomato.Id, null, method, Sown.ToInstant(), 12, [], [], null);
        place.Add(new StationState(new(new("soil"), Measurand.Media, Probe.DefaultMaxGap), false));
        place.Add(new BatchState(
            BatchTerms.Of(new(batch, tomato), LightLevel.Dim, default, new(isUp ? 3 : 0, isUp ? Sown : null, false)), Sown));
        return place;
    }

    private static (double, Moment, double, double) Costs(in Losses losses) =>
        (losses.ToCold, losses.ColdSince, losses.ToHeat, losses.HotHours);

    private static IEnumerable<string> Text(LocationState place) => place.Book.Closed
        .Concat(place.Book.Open.Select(alert => alert.ToAlert([])))
        .Select(alert => $"{alert.Kind} {alert.Severity} {alert.OpenedAt} {alert.ClosedAt} {string.Join(' ', alert.Evidence.Figures)}");
}
