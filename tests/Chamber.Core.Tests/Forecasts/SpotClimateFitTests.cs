using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Forecasts;
using Chamber.Testing;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>The temperature of a spot, fitted: known values come back, and R finds the same persistence.</summary>
public class SpotClimateFitTests
{
    [Fact]
    public void A_long_history_gives_back_usual_day_persistence_and_deviation()
    {
        var climate = new WanderingSpot(new Random(5), 20, 3, 0.9, 1.2, 365, 1).Fitted();

        Assert.Equal(0.9, climate.Persistence, 0.02);
        Assert.Equal(1.2, climate.Deviation, 0.1);
        for (var hour = 0; hour < 24; hour++)
        {
            // The mean of an hour lies half an hour on; the level of a year still strays by 0.055 K (one standard deviation).
            Assert.Equal(20 + 3 * Math.Sin((hour + 0.5 - 9) * Math.PI / 12), climate.Usual.Hours[hour]!.Value.Mean.Celsius, 0.25);
        }
    }

    [Theory]
    [InlineData(0.9, 1.2)]
    [InlineData(0.96, 0.8)]
    public void A_fortnight_is_right_in_the_middle_over_many_spots(double persistence, double deviation)
    {
        var random = new Random(11);
        var fits = Enumerable.Range(0, 200).Select(_ => new WanderingSpot(random, 21, 2, persistence, deviation, 14, 1).Fitted()).ToArray();

        Assert.Equal(persistence, fits.Select(fit => fit.Persistence).Median(), 0.02);
        Assert.Equal(deviation, fits.Select(fit => fit.Deviation).Median(), 0.15 * deviation);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task R_finds_the_same_persistence()
    {
        // R: arima(x, order = c(1, 0, 0)), maximum likelihood, on 60 days of hours.
        var residuals = Residuals(new Random(3), 0.85, 1, 24 * 60);
        var theirs =
            await Oracle.R("x <- c(" + string.Join(',', residuals.Select(value => value.ToString("R", CultureInfo.InvariantCulture)))
            + ")\nf <- arima(x, order=c(1,0,0)); cat(coef(f)[1], sqrt(f$sigma2/(1-coef(f)[1]^2)))");
        var (persistence, deviation) = theirs.Split(' ').Select(text => double.Parse(text, CultureInfo.InvariantCulture))
            .ToArray() is [var one, var two] ? (one, two) : default;

        var climate = SpotClimateFit.Fit(Flat(20), [.. residuals.Select((residual, hour) => Hour(hour, 20 + residual))]);

        Assert.Equal(persistence, climate.Persistence, 0.03);
        Assert.Equal(deviation, climate.Deviation, 0.08);
    }

    [Fact]
    public void Missing_hours_change_little()
    {
        var random = new Random(7);
        var whole = Residuals(random, 0.9, 1, 24 * 90).Select((residual, hour) => Hour(hour, 20 + residual)).ToArray();

        var fit = SpotClimateFit.Fit(Flat(20), whole);
        var gappy = SpotClimateFit.Fit(Flat(20), [.. whole.Where(_ => random.NextDouble() < 0.7)]);

        Assert.Equal(fit.Persistence, gappy.Persistence, 0.03);
        Assert.Equal(fit.Deviation, gappy.Deviation, 0.1);
    }

    [Fact]
    public void A_day_of_history_leaves_the_assumptions_and_a_doubtful_level()
    {
        var climate = SpotClimateFit.Fit(Flat(20), [.. Enumerable.Range(0, 24).Select(hour => Hour(hour, 20))]);

        Assert.Equal((0.94, 1.5), (climate.Persistence, climate.Deviation));
        Assert.Equal(1.5, climate.LevelDeviation, 0.2);
    }

    [Fact]
    public void A_day_with_an_hour_that_was_never_measured_cannot_be_foreseen() =>
        Assert.Throws<ArgumentException>(() => SpotClimateFit.Fit(
            new(DateTimeZone.Utc, [.. Enumerable.Range(0, 24).Select(hour => hour == 3 ? null : (HourOfDay?)Usual(20))]), []));

    internal static HourOfDayProfile Flat(double celsius) => new(DateTimeZone.Utc, [.. Enumerable.Repeat<HourOfDay?>(Usual(celsius), 24)]);

    internal static double[] Residuals(Random random, double persistence, double deviation, int hours)
    {
        var residuals = new double[hours];
        var now = Normal.Sample(random, 0, deviation);
        for (var hour = 0; hour < hours; hour++)
        {
            residuals[hour] = now;
            now = persistence * now + Normal.Sample(random, 0, deviation * Math.Sqrt(1 - persistence * persistence));
        }

        return residuals;
    }

    private static HourOfDay Usual(double celsius) => new(Temperature.FromCelsius(celsius), 1, 10);

    private static TemperatureSample Hour(int hour, double celsius) =>
        new(SomeCrops.Start + Duration.FromHours(hour), Temperature.FromCelsius(celsius));
}
