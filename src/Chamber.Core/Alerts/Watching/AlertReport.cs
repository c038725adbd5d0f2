using System.Runtime.InteropServices;
using Chamber.Core.Alerts.Fold;
using NodaTime;

namespace Chamber.Core.Alerts.Watching;

/// <summary>Compares what was reported with what holds now, and reports the difference.</summary>
internal static class AlertReport
{
    /// <summary>Writes the differences to <paramref name="events"/> and makes <paramref name="reported"/> equal to
    /// <paramref name="present"/>.</summary>
    /// <param name="reported">What was reported so far.</param>
    /// <param name="present">What the fold says now.</param>
    /// <param name="isCovered">Whether an alert that is no longer present still holds, and another one tells its cause.</param>
    /// <param name="reportedUpTo">Alerts closed up to here were reported before a restart, though they are not among those loaded.</param>
    /// <param name="now">When an alert that never held is withdrawn.</param>
    /// <param name="events">Where the differences go.</param>
    public static void Write(List<Alert> reported, IReadOnlyList<Alert> present, Predicate<Alert> isCovered, Instant reportedUpTo,
        Instant now, List<WatchEvent> events)
    {
        var rest = new Dictionary<(AlertKind, AlertSubject), List<Alert>>();
        foreach (var alert in reported)
        {
            (CollectionsMarshal.GetValueRefOrAddDefault(rest, (alert.Kind, alert.Subject), out _) ??= []).Add(alert);
        }

        reported.Clear();
        foreach (var alert in present)
        {
            var before = Take(rest.GetValueOrDefault((alert.Kind, alert.Subject)), alert);
            reported.Add(before is null && alert.ClosedAt <= reportedUpTo ? alert
                : WriteOne(before, AsReported(before, alert, reportedUpTo), events));
        }

        foreach (var gone in rest.Values.SelectMany(alerts => alerts).Where(alert => alert.IsOpen))
        {
            var reason = isCovered(gone) ? CloseReason.OtherCause : CloseReason.Withdrawn;
            events.Add(new AlertClosed(gone with { ClosedAt = Instant.Max(now, gone.OpenedAt), CloseReason = reason }));
        }
    }

    // Takes out the first that is the same alert.
    private static Alert? Take(List<Alert>? alerts, Alert alert)
    {
        var at = alerts?.FindIndex(alert.IsSameAs) ?? -1;
        if (at < 0)
        {
            return null;
        }

        var found = alerts![at];
        alerts.RemoveAt(at);
        return found;
    }

    // What began before the time that is folded again is known better by those who saw it begin.
    private static Alert AsReported(Alert? before, Alert alert, Instant foldedFrom) =>
        before is not null && before.OpenedAt < foldedFrom && before.OpenedAt < alert.OpenedAt
        ? alert with { Since = Instant.Min(before.Since, alert.Since), OpenedAt = before.OpenedAt }
        : alert;

    // Returns what is now reported of it.
    private static Alert WriteOne(Alert? before, Alert now, List<WatchEvent> events)
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
        else if (SaysOtherwise(before, now) || (now.IsOpen && now.Evidence.To - before.Evidence.To >= LocationFold.AmendEvery))
        {
            events.Add(new AlertAmended(now));
        }
        else
        {
            return before;
        }

        return now;
    }

    private static bool SaysOtherwise(Alert before, Alert now) => before.Evidence.Why != now.Evidence.Why
        || (before.Since, before.OpenedAt, before.ClosedAt, before.CloseReason) != (now.Since, now.OpenedAt, now.ClosedAt, now.CloseReason);
}
