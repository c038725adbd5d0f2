using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>An hour of a drift.</summary>
/// <param name="End">Its end.</param>
/// <param name="Celsius">Its mean.</param>
/// <param name="Usual">What is usual there at that hour of the day, °C.</param>
internal readonly record struct DriftedHour(Moment End, double Celsius, double Usual)
{
    private const int Day = 24;

    /// <summary>What a drift of its spot costs a batch against the usual course: progress so far, and seed if it stays as in the last day.
    /// Null when seedlings are up.</summary>
    /// <param name="batch">The batch.</param>
    /// <param name="hours">The hours since the drift began, in order.</param>
    public static BatchHarm? HarmOf(BatchState batch, IReadOnlyList<DriftedHour> hours)
    {
        var here = hours.Where(hour => batch.CameBefore(hour.End)).ToList();
        if (batch.IsUp || here.Count == 0)
        {
            return null;
        }

        var lostHours = here.Sum(hour => batch.LostShare(hour.Celsius) - batch.LostShare(hour.Usual));
        var day = here.TakeLast(Day).ToList();
        var fewer = batch.ShareLostAt(day.Average(hour => hour.Celsius)) - batch.ShareLostAt(day.Average(hour => hour.Usual));
        return batch.Harm(Math.Max(0, lostHours), Math.Max(0, fewer));
    }
}
