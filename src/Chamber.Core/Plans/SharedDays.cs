using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>Divides the days on which a mat or lamp runs among the crops that stand there together.</summary>
public static class SharedDays
{
    /// <summary>A day on which several stand there is divided evenly, so the shares add up to the days on which it runs.</summary>
    /// <param name="stays">For each crop its first day there and the day on which it is gone; null for one that never is there.</param>
    /// <returns>For each crop its share, days.</returns>
    public static double[] Of(IReadOnlyList<(LocalDate From, LocalDate Gone)?> stays)
    {
        ArgumentNullException.ThrowIfNull(stays);
        var there = new Dictionary<LocalDate, int>();
        foreach (var day in stays.SelectMany(Days))
        {
            there[day] = there.GetValueOrDefault(day) + 1;
        }

        return [.. stays.Select(stay => Days(stay).Sum(day => 1.0 / there[day]))];
    }

    private static IEnumerable<LocalDate> Days((LocalDate From, LocalDate Gone)? stay) =>
        stay is { } there ? Enumerable.Range(0, Math.Max(0, Period.DaysBetween(there.From, there.Gone))).Select(there.From.PlusDays) : [];
}
