using Chamber.Core.Climate.Warmth;
using Chamber.Core.Forecasts;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>Warm-hours to come of a wandering spot, against exact sums where there are any and against many drawn courses where there are
/// none.</summary>
public class WarmthMomentsTests
{
    private static readonly CardinalTemperatures Cardinals = Tomato.Profile.Cardinals;

    [Fact]
    public void Where_progress_is_a_straight_line_mean_and_variance_are_the_exact_sums()
    {
        // Far from every corner, warm-hours are a sum of 16 °C less the base and a first-order autoregression: its covariances add up by
        // hand.
        var (persistence, deviation, level, residual, hours) = (0.9, 0.5, 0.2, 0.8, 60);
        var moments = new WarmthMoments(Cardinals, new(SpotClimateFitTests.Flat(16), persistence, deviation, level), residual);
        for (var hour = 0; hour < hours; hour++)
        {
            moments.Step(16);
        }

        var mean = Enumerable.Range(1, hours).Sum(hour => 16 - Cardinals.Base.Celsius + residual * Math.Pow(persistence, hour));
        var variance = level * level * hours * hours;
        for (var i = 1; i <= hours; i++)
        {
            for (var j = 1; j <= hours; j++)
            {
                variance += Math.Pow(persistence, Math.Abs(i - j)) * deviation * deviation * (
                    1 - Math.Pow(persistence, 2 * Math.Min(i, j)));
            }
        }

        Assert.Equal(mean, moments.Mean, 1e-6);
        Assert.Equal(Math.Sqrt(variance), moments.Deviation, 1e-6);
    }

    [Theory]
    [InlineData(24.5, "at the corner of the plateau")]
    [InlineData(9, "near the base, where cold hours give nothing")]
    [InlineData(32, "on the falling side")]
    public void Across_corners_they_are_near_those_of_many_drawn_courses(double celsius, string where)
    {
        var climate = new SpotClimate(SpotClimateFitTests.Flat(celsius), 0.9, 1.5, 0.3);
        var moments = new WarmthMoments(Cardinals, climate, 0);
        for (var hour = 0; hour < 96; hour++)
        {
            moments.Step(celsius);
        }

        var drawn = Drawn(climate, celsius, 96);

        Assert.True(Math.Abs(drawn.Mean() - moments.Mean) < 0.01 * drawn.Mean() + 2, where);
        // The covariances go by slopes: at the corner of the plateau the deviation comes out a fifteenth too small.
        Assert.True(Math.Abs(drawn.StandardDeviation() - moments.Deviation) < 0.08 * drawn.StandardDeviation(), where);
    }

    [Fact]
    public void The_outlook_of_a_spot_lies_like_the_drawn_courses()
    {
        const double celsius = 18;
        var climate = new SpotClimate(SpotClimateFitTests.Flat(celsius), 0.92, 1.2, 0.3);
        var outlook = new SpotOutlook(Cardinals, climate, Start, 0);
        var drawn = Drawn(climate, celsius, 120).Order().ToArray();

        var ahead = Enumerable.Range(0, outlook.Courses).Select(course => outlook.Added(course, 120)).Order().ToArray();

        Assert.Equal(drawn.Mean(), outlook.Expected(120).CelsiusHours, 0.01 * drawn.Mean());
        for (var course = 0; course < ahead.Length; course++)
        {
            // Each course stands for its share of the whole, at its middle.
            Assert.Equal(drawn[(int)((course + 0.5) / ahead.Length * drawn.Length)], ahead[course], 0.02 * drawn.Mean());
        }
    }

    [Fact]
    public void Warm_hours_to_come_never_fall_and_start_from_nothing()
    {
        var outlook = new SpotOutlook(Cardinals, new(SpotClimateFitTests.Flat(9), 0.95, 2, 1), Start, -2);
        for (var course = 0; course < outlook.Courses; course++)
        {
            Assert.Equal(0, outlook.Added(course, 0));
            for (var hour = 1; hour < 24 * 40; hour++)
            {
                Assert.True(outlook.Added(course, hour) >= outlook.Added(course, hour - 1) - 1e-9);
            }
        }
    }

    [Fact]
    public void A_spot_that_is_warmer_than_usual_now_is_ahead_for_a_while_only()
    {
        var climate = new SpotClimate(SpotClimateFitTests.Flat(18), 0.9, 1, 0);
        double Gain(double hours) =>
            new SpotOutlook(Cardinals, climate, Start, 2).Expected(hours).CelsiusHours - new SpotOutlook(Cardinals, climate, Start, 0)
                .Expected(hours).CelsiusHours;

        // 2 K fading by a tenth an hour: Σ 2·0.9^h = 18 °C·h in all.
        Assert.Equal(18, Gain(24 * 7), 0.5);
        Assert.Equal(Gain(24 * 7), Gain(24 * 14), 0.1);
    }

    private static double[] Drawn(SpotClimate climate, double usual, int hours)
    {
        var random = new Random(1976);
        return [.. Enumerable.Range(0, 20_000).Select(_ =>
        {
            var (level, residual, sum) = (Normal.Sample(random, 0, climate.LevelDeviation), 0.0, 0.0);
            for (var hour = 0; hour < hours; hour++)
            {
                residual = climate.Persistence * residual
                    + Normal.Sample(random, 0, climate.Deviation * Math.Sqrt(1 - climate.Persistence * climate.Persistence));
                sum += Cardinals.EffectiveWarmth(usual + level + residual);
            }

            return sum;
        })];
    }
}
