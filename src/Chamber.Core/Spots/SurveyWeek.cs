using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>The survey that a spot is compared with: that of the last whole week, Monday to Sunday.</summary>
public static class SurveyWeek
{
    private const double HoursMin = 72;

    /// <summary>
    /// What a week found: its usual day, when 72 h of it and every hour of the day were measured; otherwise null.
    /// </summary>
    /// <param name="hours">Hourly means, of which those of the week count.</param>
    /// <param name="monday">The end of the week.</param>
    /// <param name="zone">The home's zone.</param>
    public static HourOfDayProfile? Of(IEnumerable<HourlyMean> hours, LocalDate monday, DateTimeZone zone)
    {
        var week = hours.Where(hour => hour.Date >= monday.PlusWeeks(-1) && hour.Date < monday).ToList();
        var usual = HourOfDayProfile.From(week, zone);
        return week.Sum(hour => hour.MeasuredHours) >= HoursMin && usual.IsComplete ? usual : null;
    }

    /// <summary>The Monday of a day: from then on the survey of the week before counts.</summary>
    public static LocalDate MondayOf(LocalDate day) => day.With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday));
}
