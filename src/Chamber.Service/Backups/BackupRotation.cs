using NodaTime;
using NodaTime.Calendars;

namespace Chamber.Service.Backups;

/// <summary>Which of the backups by schedule are kept: the newest days, and of the weeks before them the newest of each.</summary>
internal static class BackupRotation
{
    /// <summary>The days whose backup is no longer wanted.</summary>
    /// <param name="days">The days that have one.</param>
    /// <param name="daily">How many of the newest days are kept; at least one.</param>
    /// <param name="weekly">How many weeks (from Monday on) before those days keep one.</param>
    public static IReadOnlyList<LocalDate> Surplus(IEnumerable<LocalDate> days, int daily, int weekly)
    {
        var ordered = days.Distinct().OrderDescending().ToList();
        var older = ordered.Skip(Math.Max(daily, 1)).ToList();
        var kept = older.GroupBy(Week).Take(weekly).Select(week => week.First()).ToHashSet();
        return [.. older.Where(day => !kept.Contains(day))];
    }

    private static (int Year, int Week) Week(LocalDate day) =>
        (WeekYearRules.Iso.GetWeekYear(day), WeekYearRules.Iso.GetWeekOfWeekYear(day));
}
