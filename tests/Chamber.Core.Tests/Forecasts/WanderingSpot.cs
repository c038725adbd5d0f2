using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Forecasts;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>
/// A simulated spot: a usual day and a residual that wanders from hour to hour. It knows its true temperatures, and what a probe with
/// gaps would have told of them. A batch is sown after some days of history.
/// </summary>
internal sealed class WanderingSpot
{
    private readonly Random random;
    private readonly double[] hourly;
    private readonly int historyHours;

    public WanderingSpot(Random random, double mean, double swing, double persistence, double deviation, int historyDays, int daysAfter)
    {
        this.random = random;
        historyHours = historyDays * 24;
        hourly = new double[historyHours + daysAfter * 24];
        var residual = Normal.Sample(random, 0, deviation);
        for (var hour = 0; hour < hourly.Length; hour++)
        {
            residual = persistence * residual + Normal.Sample(random, 0, deviation * Math.Sqrt(1 - persistence * persistence));
            hourly[hour] = mean + swing * Math.Sin((hour % 24 - 9) * Math.PI / 12) + residual;
        }
    }

    public static Instant SownAt { get; } = Instant.FromUtc(2026, 3, 1, 0, 0);

    /// <summary>What the probe told in the days before the sowing, fitted.</summary>
    public SpotClimate Fitted()
    {
        var history = Enumerable.Range(0, historyHours).Select(hour => Sample(hour - historyHours + 0.5, Mean(hour))).ToArray();
        var hours = Enumerable.Range(0, 24)
            .Select(hour => history.Where((_, i) => i % 24 == hour).Select(sample => sample.Temperature.Celsius).ToArray())
            .Select(values => (HourOfDay?)new HourOfDay(Temperature.FromCelsius(values.Average()),
                MathNet.Numerics.Statistics.Statistics.StandardDeviation(values), values.Length))
            .ToArray();
        return SpotClimateFit.Fit(new HourOfDayProfile(DateTimeZone.Utc, hours), history);
    }

    /// <summary>What the seeds feel.</summary>
    public WarmthCourse Truth(CardinalTemperatures cardinals) =>
        WarmthCourse.Along(cardinals, Between(0, hourly.Length - historyHours - 1), Lasting(hourly.Length - historyHours - 1),
            Duration.MaxValue);

    /// <summary>What a probe tells until some hour, with gaps that are filled from the usual day.</summary>
    public WarmthCourse Measured(CardinalTemperatures cardinals, double untilHour, SpotClimate climate)
    {
        var samples = Between(-1, (int)Math.Ceiling(untilHour)).ToList();
        for (var gaps = random.Next(3); gaps > 0; gaps--)
        {
            var from = random.Next(samples.Count);
            samples.RemoveRange(from, Math.Min(random.Next(3, 20), samples.Count - from));
        }

        return WarmthCourse.Along(cardinals, samples, Lasting(untilHour), Duration.FromHours(2), climate.Usual);
    }

    /// <summary>How much warmer than usual it is at some hour.</summary>
    public double ResidualAt(double hour, SpotClimate climate)
    {
        var whole = (int)Math.Floor(hour);
        return Mean(historyHours + whole) - climate.Usual.Hours[(whole % 24 + 24) % 24]!.Value.Mean.Celsius;
    }

    private double Mean(int hour) =>
        hour + 1 < hourly.Length ? (hourly[hour] + hourly[hour + 1]) / 2 : hourly[hour];

    private TemperatureSample[] Between(int from, int to) =>
        [.. Enumerable.Range(from, to - from + 1).Select(hour => Sample(hour, hourly[historyHours + hour]))];

    private static TemperatureSample Sample(double hour, double celsius) =>
        new(SownAt + Duration.FromHours(hour), Temperature.FromCelsius(celsius));

    private static Interval Lasting(double hours) => new(SownAt, SownAt + Duration.FromHours(hours));
}
