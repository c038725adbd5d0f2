using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// How warm a spot usually is at each hour of the day, in the home's time zone: for each hour the mean of its temperatures,
/// their standard deviation, and how much time stands behind them. An hour that was never measured has none.
/// </summary>
public sealed class HourOfDayProfile
{
    private const double LeastOfAnHour = 0.25;

    private readonly HourOfDay?[] hours;

    internal HourOfDayProfile(DateTimeZone zone, HourOfDay?[] hours)
    {
        Zone = zone;
        this.hours = hours;
    }

    /// <summary>The zone whose hours these are.</summary>
    public DateTimeZone Zone { get; }

    /// <summary>The 24 hours from midnight; null where nothing was measured.</summary>
    public IReadOnlyList<HourOfDay?> Hours => hours;

    /// <summary>Whether every hour of the day was measured.</summary>
    public bool IsComplete => Array.TrueForAll(hours, hour => hour is not null);

    /// <summary>The hour of day that an instant falls in.</summary>
    public HourOfDay? At(Instant instant) => hours[instant.InZone(Zone).Hour];

    /// <summary>The same day with every hour warmer by so many K, or cooler below 0.</summary>
    public HourOfDayProfile Warmer(double kelvin) => new(Zone,
        Array.ConvertAll(hours, hour => hour is { } known
            ? known with { Mean = Temperature.FromCelsius(known.Mean.Celsius + kelvin) } : (HourOfDay?)null));

    /// <summary>
    /// The usual day of a trace. An hour of a day counts toward it by its measured time, and as a day once a quarter of it was measured.
    /// In the night that the clock goes back the repeated hour counts twice; in the night that it goes forward one hour has no part.
    /// </summary>
    public static HourOfDayProfile From(TemperatureTrace trace, DateTimeZone zone) => From(HourlyMeans.Of(trace, zone), zone);

    /// <summary>The usual day of temperatures of one probe.</summary>
    /// <param name="samples">In any order.</param>
    /// <param name="zone">The home's zone.</param>
    /// <param name="maxGap">Two readings further apart than this leave a gap.</param>
    public static HourOfDayProfile From(IEnumerable<TemperatureSample> samples, DateTimeZone zone, Duration maxGap) =>
        From(TemperatureTrace.Of(samples, maxGap), zone);

    /// <summary>The usual day of hourly means of that zone.</summary>
    public static HourOfDayProfile From(IEnumerable<HourlyMean> means, DateTimeZone zone)
    {
        var hours = new HourOfDay?[24];
        foreach (var hour in means.Where(mean => mean.MeasuredHours >= LeastOfAnHour).GroupBy(mean => mean.Hour))
        {
            var weight = hour.Sum(mean => mean.MeasuredHours);
            var average = hour.Sum(mean => mean.MeasuredHours * mean.Mean.Celsius) / weight;
            var days = hour.Count();
            var squares = hour.Sum(mean => Math.Pow(mean.Mean.Celsius - average, 2));
            hours[hour.Key] = new(Temperature.FromCelsius(average), days > 1 ? Math.Sqrt(squares / (days - 1)) : 0, days);
        }

        return new(zone, hours);
    }

    internal HourOfDay? AtHour(long localHourNumber) => hours[(int)(((localHourNumber % 24) + 24) % 24)];
}

/// <summary>One hour of the day in a profile.</summary>
/// <param name="Mean">Mean temperature over the measured time.</param>
/// <param name="Deviation">Standard deviation of the hourly means from day to day, K; 0 with a single day.</param>
/// <param name="Days">On how many days it was measured.</param>
public readonly record struct HourOfDay(Temperature Mean, double Deviation, int Days);
