using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using MathNet.Numerics.Integration;

namespace Chamber.Core.Tests.Climate.Warmth;

/// <summary>Days given at temperatures stand in for the four cardinal temperatures; the integral stays exact and additive.</summary>
public sealed class TriedWarmthTests
{
    private static readonly CardinalTemperatures Four = new(Celsius(5), Celsius(25), Celsius(32), Celsius(40));

    private static readonly HalfDaysAt[] Days = [new(Celsius(10), 9), new(Celsius(18), 4), new(Celsius(26), 2.5), new(Celsius(34), 3.5)];

    private static readonly CardinalTemperatures Own =
        Four with { Tried = TriedWarmth.Of(Days, WarmHours.FromCelsiusDays(60), Four) };

    [Fact]
    public void At_the_points_half_is_up_in_the_days_given()
    {
        Assert.All(Days, each => Assert.Equal(each.Days, 60 / Own.EffectiveWarmth(each.At), 1e-9));
        Assert.Equal(60 / 2.5, Own.BestWarmth, 1e-9);
    }

    [Fact]
    public void Two_kelvins_beyond_the_points_the_four_temperatures_hold()
    {
        Assert.All(new double[] { 3, 6, 8, 36, 37, 41 }, celsius =>
            Assert.Equal(Four.EffectiveWarmth(Celsius(celsius)), Own.EffectiveWarmth(Celsius(celsius)), 1e-9));
    }

    [Fact]
    public void The_mean_over_a_line_is_the_integral_and_adds_up()
    {
        var random = new Random(3);
        for (var i = 0; i < 200; i++)
        {
            var (from, to) = (45 * random.NextDouble(), 45 * random.NextDouble());
            var (low, high) = (Math.Min(from, to), Math.Max(from, to));
            var step = (high - low) / 4000;
            var sum = Enumerable.Range(0, 4000).Sum(part => GaussLegendreRule.Integrate(
                celsius => Own.EffectiveWarmth(Celsius(celsius)), low + part * step, low + (part + 1) * step, 4));
            Assert.Equal(sum / (high - low), Own.MeanEffectiveWarmth(Celsius(from), Celsius(to)), 2e-5);
            var cut = low + (high - low) * random.NextDouble();
            Assert.Equal(Own.MeanEffectiveWarmth(Celsius(low), Celsius(high)) * (high - low),
                Own.MeanEffectiveWarmth(Celsius(low), Celsius(cut)) * (cut - low)
                    + Own.MeanEffectiveWarmth(Celsius(cut), Celsius(high)) * (high - cut), 1e-9);
        }
    }

    [Fact]
    public void A_base_that_is_learned_moves_nothing_that_was_measured()
    {
        var higher = Own.WithBaseHigher(2);
        Assert.Equal(Own.EffectiveWarmth(Celsius(18)), higher.EffectiveWarmth(Celsius(18)), 1e-12);
        Assert.True(higher.EffectiveWarmth(Celsius(7)) < Own.EffectiveWarmth(Celsius(7)));
    }

    [Theory]
    [InlineData(10, 9, 10, 4, "warmer than the one before")]
    [InlineData(10, 9, 18, 0, "0.05 to 1000 days")]
    [InlineData(10, 2000, 18, 4, "0.05 to 1000 days")]
    public void Days_that_cannot_be_are_refused_by_their_name(double one, double days, double other, double otherDays, string why)
    {
        var problem = Assert.Throws<FormatException>(() => CropCatalog.Shipped.With([new CropChange(new("my-tomato"))
        {
            BasedOn = new("tomato"), HalfDays = [new(Celsius(one), days), new(Celsius(other), otherDays)],
        }]));
        Assert.Contains("halfDays", problem.Message, StringComparison.Ordinal);
        Assert.Contains(why, problem.Message, StringComparison.Ordinal);
    }

    private static Temperature Celsius(double celsius) => Temperature.FromCelsius(celsius);
}
