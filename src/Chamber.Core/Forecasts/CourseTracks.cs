using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Lays measured temperatures end to end from a sowing on, and fills what is missing hour by hour.</summary>
internal sealed class CourseTracks(Interval when, Duration maxGap, HourOfDayProfile? usual)
{
    private static readonly double HourTicks = Duration.FromHours(1).BclCompatibleTicks;

    private readonly List<double> hours = [];
    private readonly List<double> celsius = [];
    private readonly double end = when.Duration.TotalHours;
    private readonly double gapBound = maxGap.TotalHours;

    public double[] Hours => [.. hours];

    public double[] Celsius => [.. celsius];

    public double EstimatedHours { get; private set; }

    public void Lay(IReadOnlyList<TemperatureSample> samples)
    {
        if (samples.Count == 0 && usual is not { IsComplete: true })
        {
            throw new ArgumentException("Without a temperature, and without a usual day to go by, warm-hours cannot be said.",
                nameof(samples));
        }

        (double Hour, double Celsius)? last = null;
        foreach (var sample in samples)
        {
            var here = (Hour: (sample.At - when.Start).BclCompatibleTicks / HourTicks, sample.Temperature.Celsius);
            Join(last ?? (Math.Min(0, here.Hour), here.Celsius), here, last is null && here.Hour > 0);
            last = here;
        }

        Finish(last);
        if (hours.Count == 0)
        {
            Put(last?.Celsius ?? UsualAt(0) ?? 0, 0);
        }
    }

    /// <summary>From one temperature to the next, as far as the two lie within the course.</summary>
    private void Join((double Hour, double Celsius) from, (double Hour, double Celsius) to, bool beforeTheFirst)
    {
        if (to.Hour < from.Hour)
        {
            throw new ArgumentException("Temperatures are taken in order of time.");
        }

        if (to.Hour <= 0 || from.Hour >= end)
        {
            return;
        }

        if (to.Hour - from.Hour > gapBound || (beforeTheFirst && to.Hour > gapBound))
        {
            Fill(from, to);
            return;
        }

        Put(from, to, Math.Max(from.Hour, 0));
        Put(from, to, Math.Min(to.Hour, end));
    }

    private void Finish((double Hour, double Celsius)? last)
    {
        if (last is { } known && known.Hour >= end)
        {
            return;
        }

        var from = last ?? (0, UsualAt(0) ?? 0);
        var until = (end, last?.Celsius ?? from.Item2);
        if (until.end - from.Item1 > gapBound || last is null)
        {
            Fill(from, until);
            return;
        }

        Put(from, until, Math.Max(0, from.Item1));
        Put(from, until, end);
    }

    private void Fill((double Hour, double Celsius) from, (double Hour, double Celsius) to)
    {
        var (start, stop) = (Math.Max(from.Hour, 0), Math.Min(to.Hour, end));
        EstimatedHours += Math.Max(0, stop - start);
        for (var hour = start; hour < stop; hour = Math.Floor(hour + 1))
        {
            var next = Math.Min(Math.Floor(hour + 1), stop);
            var usualHere = UsualAt((hour + next) / 2);
            Put(usualHere ?? Line(from, to, hour), hour);
            Put(usualHere ?? Line(from, to, next), next);
        }
    }

    private double? UsualAt(double hour) =>
        usual?.At(when.Start + Duration.FromHours(hour))?.Mean.Celsius;

    private void Put((double Hour, double Celsius) from, (double Hour, double Celsius) to, double hour) =>
        Put(Line(from, to, hour), hour);

    private static double Line((double Hour, double Celsius) from, (double Hour, double Celsius) to, double hour) =>
        to.Hour <= from.Hour ? to.Celsius : from.Celsius + (to.Celsius - from.Celsius) * (hour - from.Hour) / (to.Hour - from.Hour);

    private void Put(double degrees, double hour)
    {
        if (hours.Count > 0 && hours[^1] == hour && celsius[^1] == degrees)
        {
            return;
        }

        hours.Add(hour);
        celsius.Add(degrees);
    }
}
