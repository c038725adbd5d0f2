using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using Chamber.Core.Water;

namespace Chamber.Core.Tests.Water;

/// <summary>Hydrothermal time, and a dry towel told from an old lot. Where a number is published its source stands beside it.</summary>
public sealed class HydrothermalTests(ITestOutputHelper output)
{
    private static readonly Crop Onion = Some.Crop("onion");
    private static readonly Crop Tomato = Some.Crop("tomato");
    private static readonly double OnionBase = BaseWater.Of(Onion).Megapascals;

    // "Onion (Allium cepa L.) seed germination affected by temperature and water potential: hydrothermal time model", abstract: thermal
    // time in free water, °C·h, and hydrothermal time, MPa·°C·h.
    [Theory]
    [InlineData(1602.83, 1249.792)]
    [InlineData(1521.44, 1122.78)]
    public void In_free_water_it_is_thermal_time_over_the_middle_base(double thermal, double hydrothermal) =>
        Assert.Equal(OnionBase, -hydrothermal / thermal, 0.025);

    // From memory: ψb50 of lettuce and tomato -0.6 to -0.9 MPa with standard deviations of 0.1 to 0.25 (Bradford 1990; Dahal & Bradford
    // 1990). The abstract above: onion comes up less from -0.2 MPa down.
    [Fact]
    public void Base_and_spread_lie_where_other_vegetables_have_them()
    {
        Assert.InRange(OnionBase, -0.9, -0.6);
        Assert.InRange(Hydrothermal.BaseDeviation(Tomato), 0.1, 0.25);
        Assert.InRange(Hydrothermal.Share(Onion, -0.2), 0.9, 0.99);
        Assert.True(Hydrothermal.Share(Onion, -0.6) < 0.75);
    }

    // Gummerson (1986): (ψ - ψb)(T - Tb) t is the same for a seed at every ψ, so time goes as 1 / (ψ - ψb).
    [Fact]
    public void Time_to_half_goes_as_one_over_what_is_above_the_base()
    {
        Assert.Equal(1, Hydrothermal.Pace(0, OnionBase), 1e-12);
        Assert.Equal(0.5, Hydrothermal.Pace(OnionBase / 2, OnionBase), 1e-12);
        Assert.Equal(0, Hydrothermal.Pace(WaterPotential.Dry, OnionBase));
        Assert.True(Hydrothermal.Share(Tomato, WaterPotential.Dry) < 0.001);
        Assert.True(Hydrothermal.Share(Tomato, WaterPotential.Moist) > 0.999);
    }

    [Fact]
    public void A_dry_time_begins_half_way_from_when_it_was_damp()
    {
        var batch = Some.Batch() with
        {
            Looks = [new(Some.Day(2), 0, null, LookMoisture.Moist), new(Some.Day(4), 0, null, LookMoisture.Dry),
                new(Some.Day(6), 0, null, LookMoisture.Dry), new(Some.Day(9), 0, null, LookMoisture.Dry)],
            Wettings = [Some.Day(7)],
        };
        Assert.Equal([Dry(3, 7), Dry(8, 10)], DryTimes.Of(batch, BaseWater.Assumed, Some.Day(10)));
        Assert.Empty(DryTimes.Of(batch with { Looks = [new(Some.Day(4), 0)] }, BaseWater.Assumed, Some.Day(10)));
    }

    [Fact]
    public void Dry_time_adds_no_warm_hours_and_the_rest_is_as_before()
    {
        var course = WarmthCourse.Steady(Tomato.Profile.Cardinals, Temperature.FromCelsius(22), new(Some.Day(0), Some.Day(10)));
        var slowed = course.Slowed([Dry(3, 7)]);
        Assert.Equal(course.Total.CelsiusHours * 0.6, slowed.Total.CelsiusHours, 1e-9);
        Assert.Equal(course.At(Some.Day(3)).CelsiusHours, slowed.At(Some.Day(3)).CelsiusHours, 1e-6);
        Assert.Same(course, course.Slowed([]));
    }

    // Twelve tomatoes on a towel at 22 °C for twelve days: dry from the second day on, or damp until the eleventh. Counts are invented.
    [Theory]
    [InlineData(1, 0, true)]
    [InlineData(1, 1, true)]
    [InlineData(10, 0, false)]
    [InlineData(10, 1, false)]
    public void A_dry_towel_is_told_from_an_old_lot_with_a_number(int dampDays, int up, bool isDry)
    {
        var batch = Some.Batch(12, SowingMethod.DampTowel) with
        {
            Looks = [new(Some.Day(dampDays), 0, null, LookMoisture.Moist), new(Some.Day(dampDays + 1), 0, null, LookMoisture.Dry),
                new(Some.Day(12), up, null, LookMoisture.Dry)],
        };
        var crop = Some.Crop("tomato");
        var damp = WarmthCourse.Steady(Tomato.Profile.Cardinals, Temperature.FromCelsius(22), new(Some.Day(0), Some.Day(12)));
        var prior = HomeKnowledge.Nothing.PriorFor(BatchKind.Of(batch, crop), Germinability.UnknownLot);
        var judged = DryEvidence.Of(batch, batch.Looks[^1], prior, damp, Germinability.UnknownLot,
            DryTimes.Of(batch, BaseWater.Assumed, Some.Day(12)));
        output.WriteLine($"damp for {dampDays} days, {up} up: {judged.TimesAsLikely:0.000} to 1 for dry, with {judged.UpIfDry:0.0}");
        Assert.Equal(isDry, judged.TimesAsLikely > 1);
        Assert.True(isDry || judged.TimesAsLikely < 0.5);
    }

    [Fact]
    public void The_number_stands_in_the_diagnosis()
    {
        var known = new BatchCase
        {
            Crop = Some.Crop("tomato"), Phase = BatchPhase.Waiting, Count = new(0, 12), Lot = new(18, 4), Hours = new(0, 0, 96, 0),
            Ahead = new(0, 0, 1), ForecastDays = (3, 6), SeenDays = (8, null), Water = WaterTrouble.DriedOut,
        };
        Assert.EndsWith("explains the count 7 times as well as a dead or weak lot does.",
            BatchDiagnosis.Of(known with { Dry = new(7.2, 4) }).Sentence, StringComparison.Ordinal);
        Assert.EndsWith("explains the count 5 times as well as that does: sound seed would stand at 9.",
            BatchDiagnosis.Of(known with { Dry = new(0.2, 9) }).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Wet_and_cold_seed_rots_sooner_and_wet_alone_does_not()
    {
        var prior = new EmergencePrior([new(1, 8, 0.3)], new(1, -1, 0.2), new ShareBelief(8, 2)) { WaitDays = 80 };
        var wet = Some.Batch() with { Looks = [new(Some.Day(1), 0, null, LookMoisture.Wet)] };
        Assert.Equal(40, ColdRot.On(prior, wet, new(1, 0, 1)).WaitDays);
        Assert.Equal(80, ColdRot.On(prior, wet, new(0, 0, 1)).WaitDays);
        Assert.Equal(80, ColdRot.On(prior, Some.Batch(), new(1, 0, 1)).WaitDays);
        Assert.Equal(40, ColdRot.On(prior, Some.Batch(), new(1, 0, 1), 96).WaitDays);
        Assert.Equal(80, ColdRot.On(prior, Some.Batch(), new(1, 0, 1), 70).WaitDays);
    }

    private static DryTime Dry(double from, double to) => new(new(Some.Day(from), Some.Day(to)), 0);
}
