using NodaTime;

namespace Chamber.Service.Ground;

/// <summary>Days to come as people say them: <c>Thursday to Saturday</c>, <c>today or tomorrow</c>, <c>any day now, by
/// Friday</c>.</summary>
internal static class CountdownText
{
    // A name of a day says which one only within a week.
    private const int NamesReach = 6;

    /// <param name="low">The first day.</param>
    /// <param name="high">The last; null when nobody can say.</param>
    /// <param name="today">Today.</param>
    /// <param name="several">Whether what is to come are several.</param>
    public static string Days(LocalDate low, LocalDate? high, LocalDate today, bool several = false) => high switch
    {
        null => low <= today ? "any day now, or much later" : $"{Name(low, today, IsNear(low, today))} or later",
        { } end when end < today => several ? "should be up by now" : $"was due by {TimeText.ShowDay(end, today)}",
        { } end when low > today => low == end
            ? Name(low, today, IsNear(end, today))
            : $"{Name(low, today, IsNear(end, today))} to {Name(end, today, IsNear(end, today))}",
        { } end when end == today => "today",
        { } end when end == today.PlusDays(1) => "today or tomorrow",
        { } end => $"any day now, by {Name(end, today, IsNear(end, today))}",
    };

    private static bool IsNear(LocalDate day, LocalDate today) => Period.DaysBetween(today, day) <= NamesReach;

    private static string Name(LocalDate day, LocalDate today, bool named) =>
        named ? day == today.PlusDays(1) ? "tomorrow" : day.DayOfWeek.ToString() : TimeText.ShowDay(day, today);
}
