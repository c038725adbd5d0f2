using Chamber.Core.Batches;
using Chamber.Core.Crops;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>What the forecast would have said at one moment of a batch.</summary>
/// <param name="At">The moment.</param>
/// <param name="Up">How many were up at the last look before it.</param>
/// <param name="WarmHours">The warm-hours until then, °C·h.</param>
/// <param name="Forecast">The forecast from what was known then.</param>
public sealed record ReplayDay(Instant At, int Up, double WarmHours, EmergenceForecast Forecast);

/// <summary>A finished batch once more from its sowing, day by day, with nothing but what was known on each day.</summary>
public static class Replay
{
    /// <summary>Nobody waits longer than this for seed to come up.</summary>
    private const int DaysMax = 400;

    /// <summary>One forecast a day from the sowing to the end of the batch, or to the last look where it has no end.</summary>
    /// <param name="batch">The batch with all its looks.</param>
    /// <param name="prior">What was believed before the sowing.</param>
    /// <param name="course">Its warm-hours over the whole time; each day sees only its own part.</param>
    /// <param name="outlook">What was to be expected of the spot at a moment, from what was known then.</param>
    public static IReadOnlyList<ReplayDay> Days(Batch batch, EmergencePrior prior, WarmthCourse course,
        Func<Instant, WarmthOutlook> outlook) =>
        Days(batch, at => Day(batch, prior, at, course, outlook(at)));

    /// <summary>The same where each day is asked for.</summary>
    /// <param name="batch">The batch with all its looks.</param>
    /// <param name="dayAt">The day at a moment, from what was known then.</param>
    public static IReadOnlyList<ReplayDay> Days(Batch batch, Func<Instant, ReplayDay> dayAt)
    {
        LookCheck.RequireAll(batch);
        var end = batch.EndedAt ?? (batch.Looks.Count > 0 ? batch.Looks[^1].At : batch.SownAt);
        var days = new List<ReplayDay>();
        for (var at = batch.SownAt; at <= end && days.Count < DaysMax; at += Duration.FromDays(1))
        {
            days.Add(dayAt(at));
        }

        return days;
    }

    /// <summary>One day of a batch of which nothing but its looks is dated: those by then are taken to have been known.</summary>
    public static ReplayDay Day(Batch batch, EmergencePrior prior, Instant at, WarmthCourse course, WarmthOutlook outlook)
    {
        List<Look> looks = [.. batch.Looks.TakeWhile(look => look.At <= at)];
        var situation = new Situation(batch.SownAt, at, batch.Seeds, batch.Method.Event(), looks, course, outlook);
        return new(at, looks.Count > 0 ? looks[^1].Up : 0, course.At(at).CelsiusHours, Forecaster.Forecast(prior, situation));
    }
}
