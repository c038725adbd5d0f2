using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Water;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>
/// The warm-hours of a batch as a function of time since its sowing. Exact between temperatures that lie close enough
/// (a straight line, split at the cardinal temperatures); longer gaps, and time before the first or after the last
/// temperature, are filled from the spot's hour-of-day profile where there is one, otherwise from the nearest temperatures.
/// </summary>
public sealed class WarmthCourse
{
    private readonly CardinalTemperatures cardinals;
    private readonly double[] hours;
    private readonly double[] celsius;
    private readonly double[] warmHours;
    private readonly double restsTo;
    private readonly (double From, double To, double Pace)[] slow;

    private WarmthCourse(CardinalTemperatures cardinals, Instant start, double[] hours, double[] celsius, double estimatedHours,
        double restsTo = double.NegativeInfinity, (double From, double To, double Pace)[]? slow = null)
    {
        this.cardinals = cardinals;
        this.restsTo = restsTo;
        this.slow = slow ?? [];
        this.hours = hours;
        this.celsius = celsius;
        Start = start;
        EstimatedHours = estimatedHours;
        warmHours = new double[hours.Length];
        for (var i = 1; i < hours.Length; i++)
        {
            warmHours[i] = warmHours[i - 1] + (hours[i] - hours[i - 1]) * MeanWarmth(celsius[i - 1], celsius[i])
                * Kept(hours[i - 1], hours[i]);
        }
    }

    /// <summary>When the batch was sown.</summary>
    public Instant Start { get; }

    /// <summary>The last moment the course knows.</summary>
    public Instant End => Start + Duration.FromHours(hours[^1]);

    /// <summary>How much of the time was filled rather than measured, in hours.</summary>
    public double EstimatedHours { get; }

    /// <summary>All the warm-hours up to <see cref="End"/>.</summary>
    public WarmHours Total => WarmHours.FromCelsiusHours(warmHours[^1]);

    /// <summary>A temperature that never changes.</summary>
    public static WarmthCourse Steady(CardinalTemperatures cardinals, Temperature temperature, Interval when)
    {
        var celsius = temperature.Celsius;
        return new(cardinals, when.Start, [0, when.Duration.TotalHours], [celsius, celsius], 0);
    }

    /// <summary>The course over measured or planned temperatures.</summary>
    /// <param name="cardinals">The crop's temperatures.</param>
    /// <param name="samples">In order of time; at least one unless there is a profile.</param>
    /// <param name="when">From the sowing to the moment up to which warm-hours are wanted.</param>
    /// <param name="maxGap">Two temperatures further apart than this leave a gap.</param>
    /// <param name="usual">The spot's usual day, which fills gaps.</param>
    /// <param name="restsTo">Seed that is chilled sleeps: up to this temperature it adds nothing; null where no chill is needed.</param>
    /// <exception cref="ArgumentException">There is neither a temperature nor a profile.</exception>
    public static WarmthCourse Along(
        CardinalTemperatures cardinals,
        IReadOnlyList<TemperatureSample> samples,
        Interval when,
        Duration maxGap,
        HourOfDayProfile? usual = null,
        Temperature? restsTo = null)
    {
        var tracks = new CourseTracks(when, maxGap, usual);
        tracks.Lay(samples);
        return new(cardinals, when.Start, tracks.Hours, tracks.Celsius, tracks.EstimatedHours,
            restsTo?.Celsius ?? double.NegativeInfinity);
    }

    /// <summary>Warm-hours from the sowing to a moment; none before it, <see cref="Total"/> after the end.</summary>
    public WarmHours At(Instant instant) => WarmHours.FromCelsiusHours(AtHours((instant - Start).TotalHours));

    /// <summary>The first hour since the sowing by which so many warm-hours were had, to within the step of the temperatures; null when
    /// they were not.</summary>
    internal double? HourOf(double celsiusHours)
    {
        if (celsiusHours > warmHours[^1])
        {
            return null;
        }

        var next = Array.FindIndex(warmHours, had => had >= celsiusHours);
        return next == 0 ? hours[0] : hours[next - 1] + (hours[next] - hours[next - 1]) * (celsiusHours - warmHours[next - 1]) / (
            warmHours[next] - warmHours[next - 1]);
    }

    internal double AtHours(double sinceStart)
    {
        if (sinceStart <= 0)
        {
            return 0;
        }

        if (sinceStart >= hours[^1])
        {
            return warmHours[^1];
        }

        var next = Array.BinarySearch(hours, sinceStart);
        next = next < 0 ? ~next : next;
        var from = next - 1;
        var step = hours[next] - hours[from];
        var share = step <= 0 ? 0 : (sinceStart - hours[from]) / step;
        var here = celsius[from] + share * (celsius[next] - celsius[from]);
        return warmHours[from] + share * step * MeanWarmth(celsius[from], here) * Kept(hours[from], sinceStart);
    }

    /// <summary>The same with times in which seed went on at a share of its pace, as it does when it lies dry.</summary>
    /// <param name="dry">The times, without overlap.</param>
    public WarmthCourse Slowed(IReadOnlyList<DryTime> dry)
    {
        ArgumentNullException.ThrowIfNull(dry);
        return dry.Count == 0 ? this : new(cardinals, Start, hours, celsius, EstimatedHours, restsTo,
            [.. dry.Select(time => ((time.When.Start - Start).TotalHours, (time.When.End - Start).TotalHours, time.Pace))]);
    }

    private double Kept(double from, double to)
    {
        var kept = 1.0;
        foreach (var (start, end, pace) in slow)
        {
            kept -= to > from ? Math.Max(0, Math.Min(to, end) - Math.Max(from, start)) / (to - from) * (1 - pace) : 0;
        }

        return kept;
    }

    private double MeanWarmth(double from, double to) =>
        Math.Max(from, to) <= restsTo ? 0 : cardinals.MeanEffectiveWarmth(from, to);

    /// <summary>What a higher base of the crop does to warm-hours over the course (<see cref="BaseSlope"/>), 1/K.</summary>
    public double PerBaseKelvinOf(Crop crop) => BaseSlope.Of(crop, SumOf);

    /// <summary>The mean temperature over the course.</summary>
    public Temperature MeanTemperature => Temperature.FromCelsius(MeanOf(temperature => temperature.Celsius));

    private double SumOf(CardinalTemperatures other)
    {
        var sum = 0.0;
        for (var i = 1; i < hours.Length; i++)
        {
            var middle = (celsius[i] + celsius[i - 1]) / 2;
            sum += middle <= restsTo ? 0 : (hours[i] - hours[i - 1]) * other.EffectiveWarmth(middle);
        }

        return sum;
    }

    /// <summary>How far ln θ50 may be off over the course, each temperature weighted by its time: what a profile's trials do not know
    /// (<see cref="Untried"/>).</summary>
    public double UntriedOf(GerminationProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return profile.Tried is null ? 0 : MeanOf(temperature => Untried.At(profile, temperature));
    }

    /// <summary>What the temperatures of the course leave of sound seed, 0 to 1 (<see cref="StandTally"/>).</summary>
    /// <param name="stand">The crop's stand.</param>
    /// <param name="warmerKelvins">By how much all ceilings lie higher than the curve has them, K.</param>
    internal double StandShare(StandCurve stand, double warmerKelvins)
    {
        var tally = default(StandTally);
        for (var i = 1; i < hours.Length; i++)
        {
            tally = tally.With(stand, cardinals, hours[i] - hours[i - 1], (celsius[i] + celsius[i - 1]) / 2, warmerKelvins);
        }

        return hours.Length > 1 ? tally.Share(stand, warmerKelvins) : stand.RelativeAt(Temperature.FromCelsius(celsius[^1]), warmerKelvins);
    }

    /// <summary>The mean of a share over the temperatures of the course, each weighted by its time.</summary>
    internal double MeanOf(Func<Temperature, double> share)
    {
        var (sum, time) = (0.0, 0.0);
        for (var i = 1; i < hours.Length; i++)
        {
            var step = hours[i] - hours[i - 1];
            sum += step * share(Temperature.FromCelsius((celsius[i] + celsius[i - 1]) / 2));
            time += step;
        }

        return time > 0 ? sum / time : share(Temperature.FromCelsius(celsius[^1]));
    }
}
