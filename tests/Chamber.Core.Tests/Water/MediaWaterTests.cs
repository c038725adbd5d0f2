using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Water;
using NodaTime;

namespace Chamber.Core.Tests.Water;

/// <summary>A calibrated media probe as evidence of water. No number is published for potting mix; the bounds here are this program's
/// own.</summary>
public sealed class MediaWaterTests(ITestOutputHelper output)
{
    private static readonly double[] Percents = [5, 15, 25, 35, 50, 70];

    // By Campbell's power from -0.001 MPa at 100 % to -1.5 at 25 %: a calculator gives -0.0387 at half and -0.57 at three tenths.
    [Theory]
    [InlineData(100, -0.001)]
    [InlineData(50, -0.0387)]
    [InlineData(30, -0.573)]
    [InlineData(25, -1.499)]
    public void Water_is_held_the_harder_the_less_there_is(double percent, double megapascals)
    {
        Assert.Equal(megapascals, MediaWater.PotentialOf(percent, false), 0.01 * -megapascals);
        Assert.Equal(MediaWater.PotentialOf(0.6 * percent, false), MediaWater.PotentialOf(percent, true), 1e-9);
    }

    [Fact]
    public void A_percent_says_dry_only_near_the_dry_end_and_never_for_sure()
    {
        double[] paces = [.. Percents.Select(percent => MediaWater.Pace(percent, false, BaseWater.Assumed))];
        output.WriteLine(string.Join("; ", paces.Select(pace => $"{pace:0.00}")));
        Assert.True(paces.Zip(paces.Skip(1)).All(pair => pair.First < pair.Second));
        Assert.True(paces[0] < 0.05);
        Assert.InRange(paces[2], 0.1, 0.5);
        Assert.InRange(paces[4], 0.85, 0.99);
    }

    // Lemon balm stops where onion still goes on: -0.44 against -0.76 MPa.
    [Fact]
    public void A_crop_that_was_measured_goes_by_its_own_base()
    {
        var balm = BaseWater.Of(Some.Crop("lemon-balm"));
        Assert.Equal((-0.44, true), (balm.Megapascals, balm.IsMeasured));
        Assert.Equal(-0.76, BaseWater.Of(Some.Crop("leek")).Megapascals);
        Assert.Equal(BaseWater.Assumed, BaseWater.Of(Some.Crop("tomato")));
        Assert.True(BaseWater.Assumed.Deviation > BaseWater.Of(Some.Crop("onion")).Deviation);
        Assert.True(MediaWater.Pace(35, false, balm) < MediaWater.Pace(35, false, BaseWater.Of(Some.Crop("onion"))));
        Assert.All(CropCatalog.Shipped.Crops, crop => Assert.Contains(crop.Sources, source =>
            source.StartsWith("Water that seed needs: ", StringComparison.Ordinal)));
    }

    [Fact]
    public void Readings_become_steps_of_an_hour_without_their_gaps()
    {
        (Instant, double)[] readings = [(At(0), 60), (At(30), 50), (At(60), 40), (At(90), 40), (At(300), 20), (At(330), 20)];
        Assert.Equal([new(new(At(0), At(60)), 50), new(new(At(60), At(90)), 40), new(new(At(300), At(330)), 20)],
            DampStep.Of(readings, Duration.FromHours(1)));
    }

    [Fact]
    public void Looks_say_that_it_was_dry_and_a_probe_says_since_when()
    {
        var batch = Some.Batch() with { Looks = [new(Some.Day(8), 0, null, LookMoisture.Dry)] };
        DampStep[] measured = [new(new(Some.Day(0), Some.Day(6)), 60)];
        Assert.Equal(Some.Day(4), Assert.Single(DryTimes.Of(batch, BaseWater.Assumed, Some.Day(10))).When.Start);
        Assert.Equal(Some.Day(6), Assert.Single(DryTimes.Of(batch, BaseWater.Assumed, Some.Day(10), measured)).When.Start);
    }

    // Twelve tomatoes in mix at 22 °C, none up after twelve days, and nobody felt the mix: a probe measured it dry from the second day
    // on, or damp until the eleventh. Counts are invented.
    [Theory]
    [InlineData(1, true)]
    [InlineData(11, false)]
    public void A_dry_box_is_told_from_an_old_lot_without_a_look_that_says_so(int dampDays, bool isDry)
    {
        var (crop, batch) = (Some.Crop("tomato"), Some.Batch(12) with { Looks = [new(Some.Day(12), 0)] });
        DampStep[] measured = [new(new(Some.Day(0), Some.Day(dampDays)), 60), new(new(Some.Day(dampDays), Some.Day(12)), 12)];
        var damp = WarmthCourse.Steady(crop.Profile.Cardinals, Temperature.FromCelsius(22), new(Some.Day(0), Some.Day(12)));
        var prior = HomeKnowledge.Nothing.PriorFor(BatchKind.Of(batch, crop), Germinability.UnknownLot);
        var judged = DryEvidence.Of(batch, batch.Looks[^1], prior, damp, Germinability.UnknownLot,
            DryTimes.Of(batch, BaseWater.Assumed, Some.Day(12), measured));
        output.WriteLine($"damp for {dampDays} days: {judged.TimesAsLikely:0.000} to 1 for dry");
        Assert.Equal(isDry, judged.TimesAsLikely > 1);
        Assert.True(isDry ? judged.TimesAsLikely > 3 : judged.TimesAsLikely < 0.1);
    }

    private static Instant At(int minutes) => Some.Day(0) + Duration.FromMinutes(minutes);
}
