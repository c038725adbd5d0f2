using NodaTime;

namespace Chamber.Core.Plans;

/// <summary>Pots that stand in the light from one day to another.</summary>
/// <param name="What">Whose they are, for people.</param>
/// <param name="Pots">How many.</param>
/// <param name="From">The first day, when they come up.</param>
/// <param name="To">The day they go out; not counted.</param>
public sealed record LitPots(string What, int Pots, LocalDate From, LocalDate To);

/// <summary>A week in which more plants want light than there is room for.</summary>
/// <param name="Week">Its Monday.</param>
/// <param name="Pots">How many pots stand in the light then.</param>
/// <param name="Over">By how many too many; 0 or less fits.</param>
/// <param name="Whose">What is there.</param>
public sealed record LightWeek(LocalDate Week, int Pots, int Over, IReadOnlyList<string> Whose);

/// <summary>
/// The room in the light after sprouting, which is the real limit in homes: seventy seedlings and light for twenty is the usual mistake.
/// </summary>
public static class LightRoom
{
    /// <summary>No plan runs over more weeks than this.</summary>
    private const int WeeksMax = 104;

    /// <summary>Every week in which pots stand in the light, each on its fullest day.</summary>
    public static IReadOnlyList<LightWeek> Weeks(IReadOnlyCollection<LitPots> plans, int room)
    {
        ArgumentNullException.ThrowIfNull(plans);
        List<LightWeek> weeks = [];
        if (plans.Count == 0)
        {
            return weeks;
        }

        var monday = plans.Min(plan => plan.From).With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday));
        var end = plans.Max(plan => plan.To);
        for (; monday < end && weeks.Count < WeeksMax; monday = monday.PlusWeeks(1))
        {
            weeks.Add(Week(plans, monday, room));
        }

        return weeks;
    }

    private static LightWeek Week(IReadOnlyCollection<LitPots> plans, LocalDate monday, int room)
    {
        var fullest = Enumerable.Range(0, 7).Select(day => Standing(plans, monday.PlusDays(day)))
            .MaxBy(there => there.Sum(plan => plan.Pots))!;
        var pots = fullest.Sum(plan => plan.Pots);
        return new(monday, pots, pots - room, [.. fullest.Select(plan => plan.What)]);
    }

    private static LitPots[] Standing(IEnumerable<LitPots> plans, LocalDate day) =>
        [.. plans.Where(plan => plan.From <= day && day < plan.To)];
}
