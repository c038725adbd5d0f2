using Chamber.Core.Simulation;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Simulation;

/// <summary>The home is invented; what holds it to the real world are the laws that any home keeps.</summary>
public sealed class SimulatedHomeTests
{
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
    private static readonly Instant Start = Instant.FromUtc(2026, 2, 6, 11, 0);
    private static readonly Lazy<Dictionary<string, List<SimulatedClimate>>> TwoWeeks = new(() => Live(new(Start, Zone, 7), 14 * 24 * 60));

    [Fact]
    public void The_same_seed_gives_the_same_home_and_another_seed_another()
    {
        var one = Live(new(Start, Zone, 7), 300);

        Assert.Equal(one["sunny-sill"], Live(new(Start, Zone, 7), 300)["sunny-sill"]);
        Assert.NotEqual(one["sunny-sill"], Live(new(Start, Zone, 8), 300)["sunny-sill"]);
    }

    [Fact]
    public void A_thermostat_holds_its_mat_within_a_kelvin()
    {
        Assert.All(TwoWeeks.Value["thermostat-mat"], climate => Assert.InRange(climate.Media.Celsius, 26.4, 27.6));
    }

    [Fact]
    public void A_plain_mat_follows_the_room_and_cooks_what_stands_on_it()
    {
        var media = Media("plain-mat");

        Assert.InRange(media.Average(), 32, 36);
        Assert.True(media.Max() - media.Min() > 2);
    }

    // FAO-56's psychrometer (its equation 15) bounds it: no wet surface is cooler than the wet-bulb temperature.
    [Fact]
    public void Open_wet_mix_is_cooler_than_its_air_but_never_below_the_wet_bulb()
    {
        Assert.InRange(TwoWeeks.Value["freezer-top"].Average(climate => climate.Air.Celsius - climate.Media.Celsius), 2, 6);
        Assert.All(TwoWeeks.Value["freezer-top"], climate =>
        {
            var vapour = climate.Humidity.Ratio * HumidAir.Saturation(climate.Air.Celsius);
            Assert.True(climate.Media.Celsius > HumidAir.WetBulb(climate.Air.Celsius, vapour) - 1.5);
        });
    }

    [Fact]
    public void A_boiler_cupboard_is_warmest_when_the_heating_runs()
    {
        var byHour = ByHour("boiler-cupboard");

        Assert.True(byHour[20] > byHour[4] + 3);
    }

    [Fact]
    public void The_sun_warms_the_sill_at_noon_and_the_window_cools_it_at_night()
    {
        var byHour = ByHour("sunny-sill");

        Assert.True(byHour[13] > byHour[5] + 5);
        Assert.True(Media("sunny-sill").Max() > 28);
    }

    [Fact]
    public void Mix_follows_its_air_late_and_softened()
    {
        var cupboard = TwoWeeks.Value["boiler-cupboard"];

        Assert.True(
            Swing(cupboard.Select(climate => 2 * climate.Air.Celsius - climate.Media.Celsius)) > 1.3 * Swing(Media("boiler-cupboard")));
    }

    [Fact]
    public void Air_under_a_lid_stays_near_saturation_and_open_air_does_not()
    {
        Assert.All(TwoWeeks.Value["thermostat-mat"], climate => Assert.True(climate.Humidity.Percent > 94));
        Assert.All(TwoWeeks.Value["freezer-top"], climate => Assert.True(climate.Humidity.Percent < 70));
    }

    private static List<double> Media(string spot) => [.. TwoWeeks.Value[spot].Select(climate => climate.Media.Celsius)];

    private static double Swing(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted[sorted.Count * 95 / 100] - sorted[sorted.Count * 5 / 100];
    }

    private static double[] ByHour(string spot) =>
        [.. Media(spot)
            .Select((celsius, i) => (celsius, (Start + Duration.FromMinutes(i + 1)).InZone(Zone).Hour))
            .GroupBy(point => point.Hour)
            .OrderBy(hour => hour.Key)
            .Select(hour => hour.Average(point => point.celsius))];

    private static Dictionary<string, List<SimulatedClimate>> Live(SimulatedHome home, int minutes)
    {
        var lived = SharedFlat.Spots.ToDictionary(place => place.Id.Text, _ => new List<SimulatedClimate>());
        for (var i = 0; i < minutes; i++)
        {
            home.Step();
            foreach (var (spot, climates) in lived)
            {
                climates.Add(home[new SpotId(spot)]);
            }
        }

        return lived;
    }
}
