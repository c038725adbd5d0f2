using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Tests.Climate.Warmth;

/// <summary>The bent cold end of the curve: E = (T - Tb + w)²/(4w) within w of the base.</summary>
public class FootTests
{
    private static readonly CardinalTemperatures[] Curves =
    [
        Curve(4, 24, 30, 36, 9),
        Curve(11, 22, 32, 40, 9),

        // The plateau begins within the foot.
        Curve(15, 20, 25, 35, 9),
        Curve(4, 24, 30, 36, 0),
    ];

    [Fact]
    public void The_mean_over_any_line_is_exact()
    {
        var random = new Random(20261130);
        for (var i = 0; i < 400; i++)
        {
            var curve = Curves[i % Curves.Length];
            var (from, to) = (random.NextDouble() * 60 - 12, random.NextDouble() * 60 - 12);
            Assert.Equal(Summed(curve, from, to), curve.MeanEffectiveWarmth(Celsius(from), Celsius(to)), 2e-6);
        }
    }

    [Fact]
    public void Two_parts_of_a_line_add_up_to_the_whole()
    {
        var random = new Random(20261130);
        for (var i = 0; i < 2000; i++)
        {
            var curve = Curves[i % Curves.Length];
            var (from, to, cut) = (random.NextDouble() * 60 - 12, random.NextDouble() * 60 - 12, random.NextDouble());
            var middle = from + cut * (to - from);
            var parts = cut * curve.MeanEffectiveWarmth(from, middle) + (1 - cut) * curve.MeanEffectiveWarmth(middle, to);
            Assert.Equal(curve.MeanEffectiveWarmth(from, to), parts, 1e-9);
        }
    }

    [Fact]
    public void The_curve_is_smooth_at_both_ends_of_the_foot_and_joins_the_line()
    {
        var curve = Curves[0];
        Assert.Equal(0, curve.EffectiveWarmth(Celsius(-5)));
        Assert.Equal(9, curve.EffectiveWarmth(Celsius(13)), 1e-12);
        Assert.Equal(12, curve.EffectiveWarmth(Celsius(16)), 1e-12);
        Assert.Equal(2.25, curve.EffectiveWarmth(Celsius(4)), 1e-12);
        foreach (var bend in new[] { -5, 13 })
        {
            var (before, after) = (Slope(bend - 1e-4), Slope(bend + 1e-4));
            Assert.Equal(before, after, 1e-4);
        }

        double Slope(double celsius) => (curve.EffectiveWarmth(celsius + 1e-5) - curve.EffectiveWarmth(celsius - 1e-5)) / 2e-5;
    }

    [Fact]
    public void A_share_of_the_fastest_is_found_again_on_the_rising_limb()
    {
        foreach (var curve in Curves)
        {
            foreach (var share in new[] { 0.05, 0.3, 0.5, 0.9, 1 })
            {
                Assert.Equal(share * curve.BestWarmth, curve.EffectiveWarmth(curve.Rising(share)), 1e-9);
            }
        }
    }

    [Fact]
    public void A_foot_below_nothing_is_refused() => Assert.Throws<ArgumentException>(() => Curve(4, 24, 30, 36, -1));

    private static double Summed(CardinalTemperatures curve, double from, double to)
    {
        const int Steps = 20_000;
        return Enumerable.Range(0, Steps).Average(i => curve.EffectiveWarmth(Celsius(from + (to - from) * (i + 0.5) / Steps)));
    }

    private static CardinalTemperatures Curve(double low, double from, double to, double high, double foot) =>
        new(Celsius(low), Celsius(from), Celsius(to), Celsius(high), foot);

    private static Temperature Celsius(double celsius) => Temperature.FromCelsius(celsius);
}
