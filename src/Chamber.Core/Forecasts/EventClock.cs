namespace Chamber.Core.Forecasts;

/// <summary>
/// The chance, by hours since the sowing, that a milestone is passed: between looks that have been, a straight line between what the
/// counts prove; after the last look, by measured warm-hours until now and by the outlook from then on.
/// </summary>
internal sealed class EventClock
{
    private const double HoursMax = 10 * 365.25 * 24;
    private const double Precision = 1.0 / 120;

    private readonly Situation situation;
    private readonly EventOdds odds;
    private readonly (double Hours, int Up)[] looks;
    private readonly double now;
    private readonly double warmHoursNow;

    public EventClock(Situation situation, EventOdds odds)
    {
        this.situation = situation;
        this.odds = odds;
        looks = [.. situation.Looks.Select(look => ((look.At - situation.SownAt).TotalHours, look.Up))];
        now = situation.NowHours;
        warmHoursNow = situation.WarmHoursNow;
    }

    /// <summary>The chance that it is passed by so many hours since the sowing.</summary>
    public double Passed(Milestone milestone, double hours)
    {
        if (looks.Length > 0 && hours <= looks[^1].Hours)
        {
            return ByLooks(milestone, hours);
        }

        if (hours <= now)
        {
            return odds.At(milestone, situation.Past?.AtHours(hours) ?? 0);
        }

        var sum = 0.0;
        for (var course = 0; course < situation.Ahead.Courses; course++)
        {
            sum += odds.At(milestone, warmHoursNow + situation.Ahead.Added(course, hours - now));
        }

        return sum / situation.Ahead.Courses;
    }

    /// <summary>The hours since the sowing at which the chance reaches a level, or null when that lies beyond ten years.</summary>
    public double? Reaches(Milestone milestone, double level) => FirstHour(hours => Passed(milestone, hours) >= level, 0);

    /// <summary>The first hour from <paramref name="from"/> on at which something that stays true becomes true, to half a minute.</summary>
    public static double? FirstHour(Func<double, bool> holds, double from)
    {
        if (holds(from))
        {
            return from;
        }

        var (low, step) = (from, 24.0);
        while (!holds(low + step))
        {
            low += step;
            step *= 2;
            if (low > HoursMax)
            {
                return null;
            }
        }

        var high = low + step;
        while (high - low > Precision)
        {
            var middle = (low + high) / 2;
            (low, high) = holds(middle) ? (low, middle) : (middle, high);
        }

        return high;
    }

    private double ByLooks(Milestone milestone, double hours)
    {
        var (from, fromHours) = (0.0, 0.0);
        foreach (var look in looks)
        {
            var here = odds.AtCount(milestone, look.Up);
            if (hours <= look.Hours)
            {
                var width = look.Hours - fromHours;
                return width <= 0 ? here : from + (here - from) * Math.Clamp((hours - fromHours) / width, 0, 1);
            }

            (from, fromHours) = (here, look.Hours);
        }

        return from;
    }
}
