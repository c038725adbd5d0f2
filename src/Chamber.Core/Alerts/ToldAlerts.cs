using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>Compares what was said of a place with what holds now, and says the difference.</summary>
internal static class ToldAlerts
{
    /// <summary>Writes the differences to <paramref name="events"/> and makes <paramref name="told"/> equal to <paramref name="present"/>.</summary>
    /// <param name="told">What was said so far.</param>
    /// <param name="present">What the fold says now.</param>
    /// <param name="isCovered">Whether an alert that is no longer said still holds, and another one tells its cause.</param>
    /// <param name="now">When an alert that never held is withdrawn.</param>
    /// <param name="events">Where the differences go.</param>
    public static void Tell(List<Alert> told, IReadOnlyList<Alert> present, Predicate<Alert> isCovered, Instant now, List<WatchEvent> events)
    {
        var rest = new List<Alert>(told);
        foreach (var alert in present)
        {
            var before = rest.Find(alert.IsSameAs);
            if (before is not null)
            {
                rest.Remove(before);
            }

            TellOne(before, alert, events);
        }

        foreach (var gone in rest.Where(alert => alert.IsOpen))
        {
            events.Add(new AlertClosed(gone with { ClosedAt = Instant.Max(now, gone.OpenedAt), CloseReason = isCovered(gone) ? CloseReason.OtherCause : CloseReason.Withdrawn }));
        }

        told.Clear();
        told.AddRange(present);
    }

    private static void TellOne(Alert? before, Alert now, List<WatchEvent> events)
    {
        if (before is null || (!before.IsOpen && now.IsOpen))
        {
            events.Add(new AlertOpened(now));
            if (!now.IsOpen)
            {
                events.Add(new AlertClosed(now));
            }
        }
        else if (before.IsOpen && !now.IsOpen)
        {
            events.Add(new AlertClosed(now));
        }
        else if (now.IsOpen && now.Severity > before.Severity)
        {
            events.Add(new AlertWorsened(now));
        }
    }
}
