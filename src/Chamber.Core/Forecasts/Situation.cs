using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Where a batch stands now: what was sown, what was seen, what warmth it had and what warmth is to come.</summary>
/// <param name="SownAt">When it was sown.</param>
/// <param name="Now">From when on the future is asked; not before the sowing.</param>
/// <param name="Seeds">How many were sown, at least 1.</param>
/// <param name="Event">What counts as up.</param>
/// <param name="Looks">The looks until now.</param>
/// <param name="Past">Its warm-hours until now; null when nothing has passed yet.</param>
/// <param name="Ahead">What is to come from now on.</param>
public sealed record Situation(
    Instant SownAt,
    Instant Now,
    int Seeds,
    EmergenceEvent Event,
    IReadOnlyList<Look> Looks,
    WarmthCourse? Past,
    WarmthOutlook Ahead)
{
    /// <summary>A batch that is sown this moment.</summary>
    public static Situation AtSowing(int seeds, EmergenceEvent @event, WarmthOutlook ahead, Instant now = default) =>
        new(now, now, seeds, @event, [], null, ahead);

    internal double NowHours => (Now - SownAt).TotalHours;

    internal SeenCounts Seen => SeenCounts.Of(Seeds, Looks.Select(look => (WarmHoursAt(look.At), look.Up)));

    internal double WarmHoursNow => WarmHoursAt(Now);

    private double WarmHoursAt(Instant at) => Past?.At(at).CelsiusHours ?? 0;
}
