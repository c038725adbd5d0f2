using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Temperatures that are known beforehand: a recorded or planned trace. After its end its last day is taken again and
/// again.</summary>
public sealed class PlannedOutlook : WarmthOutlook
{
    private const double DayHours = 24;

    private readonly WarmthCourse course;
    private readonly double length;
    private readonly double lastDayFrom;

    /// <param name="cardinals">The crop's temperatures.</param>
    /// <param name="samples">At least one temperature, in order of time; straight lines lie between them.</param>
    public PlannedOutlook(CardinalTemperatures cardinals, IReadOnlyList<TemperatureSample> samples)
        : base(1)
    {
        if (samples.Count == 0)
        {
            throw new ArgumentException("A trace needs at least one temperature.", nameof(samples));
        }

        var when = new Interval(samples[0].At, samples[^1].At);
        length = when.Duration.TotalHours;
        course = length > 0
            ? WarmthCourse.Along(cardinals, samples, when, Duration.MaxValue)
            : WarmthCourse.Steady(cardinals, samples[0].Temperature, new(when.Start, when.Start + Duration.FromHours(DayHours)));
        length = Math.Max(length, course.Start == course.End ? 0 : (course.End - course.Start).TotalHours);
        lastDayFrom = Math.Max(0, length - DayHours);
    }

    /// <summary>Where the trace ends; later answers rest on its last day.</summary>
    public Instant End => course.End;

    /// <summary>The warm-hours of the trace itself.</summary>
    public WarmthCourse Course => course;

    internal override double Added(int course, double hours)
    {
        if (hours <= length)
        {
            return this.course.AtHours(hours);
        }

        var cycle = length - lastDayFrom;
        var start = this.course.AtHours(lastDayFrom);
        var whole = this.course.AtHours(length);
        var beyond = hours - length;
        var rest = beyond % cycle;
        return whole + Math.Floor(beyond / cycle) * (whole - start) + this.course.AtHours(lastDayFrom + rest) - start;
    }
}
