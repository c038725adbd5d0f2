using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Forecasts;

/// <summary>
/// The warm-hours that a spot will add from now on: a few equally likely courses, each never falling, as a function of
/// hours from now. Because warm-hours never fall, the chance that an event has happened by a moment needs only how warm-hours
/// are distributed at that moment; the courses are the quantiles of that.
/// </summary>
public abstract class WarmthOutlook
{
    private protected WarmthOutlook(int courses) => Courses = courses;

    /// <summary>How many equally likely courses there are.</summary>
    internal int Courses { get; }

    /// <summary>Warm-hours added in so many hours from now, by one of the courses.</summary>
    internal abstract double Added(int course, double hours);

    /// <summary>A temperature that never changes.</summary>
    public static WarmthOutlook Steady(CardinalTemperatures cardinals, Temperature temperature) =>
        new SteadyOutlook(cardinals.EffectiveWarmth(temperature.Celsius));

    /// <summary>The same after days in which seed sleeps and gains nothing.</summary>
    /// <param name="sleepDays">How many, 0 or more.</param>
    /// <param name="outlook">What is to come then.</param>
    public static WarmthOutlook After(double sleepDays, WarmthOutlook outlook) =>
        sleepDays <= 0 ? outlook : new DelayedOutlook(sleepDays * 24, outlook);

    /// <summary>Warm-hours added on average in so many hours from now.</summary>
    public WarmHours Expected(double hours)
    {
        var sum = 0.0;
        for (var course = 0; course < Courses; course++)
        {
            sum += Added(course, hours);
        }

        return WarmHours.FromCelsiusHours(sum / Courses);
    }

    private sealed class SteadyOutlook(double warmth) : WarmthOutlook(1)
    {
        internal override double Added(int course, double hours) => warmth * Math.Max(hours, 0);
    }
}
