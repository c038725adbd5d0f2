using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>Compares what was said of a place with what holds now, and says the difference.</summary>
internal static class ToldAlerts
{
    /// <summary>An open alert's numbers are told anew when what they rest on has gone on for so long.</summary>
    public static readonly Duration AmendEvery = Duration.FromHours(1);

    /// <summary>Writes the differences to <paramref name="events"/> and makes <paramref name="told"/> equal to <paramref name="present"/>.</summary>
    /// <param name="told">What was said so far.</param>
    /// <param name="present">What the fold says now.</param>
    /// <param name="isCovered">Whether an alert that is no longer said still holds, and another one tells its cause.</param>
    /// <param name="toldUpTo">Alerts closed up to here were told before a restart, though they are not among those loaded.</param>
    /// <param name="now">When an alert that never held is withdrawn.</param>
    /// <param name="events">Where the differences go.</param>
    public static void Tell(List<Alert> told, IReadOnlyList<Alert> present, Predicate<Alert> isCovered, Instant toldUpTo, Instant now, List<WatchEvent> events)
    {
        var rest = new List<Alert>(told);
        told.Clear();
        foreach (var alert in present)
        {
            var before = rest.Find(alert.IsSameAs);
            if (before is not null)
            {
                rest.Remove(before);
            }

            told.Add(before is null && alert.ClosedAt <= toldUpTo ? alert : TellOne(before, AsTold(before, alert, toldUpTo), events));
        }

        foreach (var gone in rest.Where(alert => alert.IsOpen))
        {
            events.Add(new AlertClosed(gone with { ClosedAt = Instant.Max(now, gone.OpenedAt), CloseReason = isCovered(gone) ? CloseReason.OtherCause : CloseReason.Withdrawn }));
        }
    }

    // What began before the time that is folded again is known better by those who saw it begin.
    private static Alert AsTold(Alert? before, Alert alert, Instant foldedFrom) => before is not null && before.OpenedAt < foldedFrom && before.OpenedAt < alert.OpenedAt
        ? alert with { Since = Instant.Min(before.Since, alert.Since), OpenedAt = before.OpenedAt }
        : alert;

    // Returns what is now told of it.
    private static Alert TellOne(Alert? before, Alert now, List<WatchEvent> events)
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
        else if (HasOtherEdges(before, now) || (now.IsOpen && now.Evidence.To - before.Evidence.To >= AmendEvery))
        {
            events.Add(new AlertAmended(now));
        }
        else
        {
            return before;
        }

        return now;
    }

    private static bool HasOtherEdges(Alert before, Alert now) =>
        (before.Since, before.OpenedAt, before.ClosedAt, before.CloseReason) != (now.Since, now.OpenedAt, now.ClosedAt, now.CloseReason);
}
