namespace Chamber.Core.Forecasts;

/// <summary>
/// The chance, by hours since the sowing, that a milestone is passed: between looks that have been, by what the
/// counts prove; after the last look, by measured warm-hours until now and by the outlook from then on.
/// </summary>
internal sealed class EventClock
{
    /// <summary>What does not come within ten years does not come.</summary>
    public const double HoursMax = 10 * 365.25 * 24;

    private const double Precision = 1.0 / 120;

    private readonly Situation situation;
    private readonly EventOdds odds;
    private readonly (double Hours, int Up)[] looks;
    private readonly double now;
    private readonly double warmHoursNow;
    private readonly EmergenceCurve middle;

    public EventClock(Situation situation, EmergenceBelief belief, EventOdds odds)
    {
        this.situation = situation;
        this.odds = odds;
        looks = [.. situation.Looks.Select(look => ((look.At - situation.SownAt).TotalHours, look.Up))];
        now = situation.NowHours;
        warmHoursNow = situation.WarmHoursNow;
        middle = new(belief.LogHalf.Mean, belief.Spread.Mean, 1);
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
        var before = (Hours: 0.0, Up: 0);
        foreach (var look in looks)
        {
            if (hours <= look.Hours)
            {
                return look.Hours <= before.Hours || hours <= before.Hours
                    ? odds.AtCount(milestone, hours <= before.Hours ? before.Up : look.Up)
                    : odds.Between(milestone, before.Up, look.Up, ShareOf(before.Hours, hours, look.Hours));
            }

            before = look;
        }

        return odds.AtCount(milestone, before.Up);
    }

    /// <summary>The share of the seeds that came up between two looks which were up by some hour in between, by the belief's middle
    /// curve.</summary>
    private double ShareOf(double from, double hours, double to)
    {
        var (start, here, end) = (Curve(from), Curve(hours), Curve(to));
        return end - start > 1e-9 ? Math.Clamp((here - start) / (end - start), 0, 1) : (hours - from) / (to - from);

        double Curve(double at) => middle.ShareOfGerminable(situation.Past?.AtHours(at) ?? 0);
    }
}
