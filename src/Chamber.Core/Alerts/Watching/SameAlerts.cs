namespace Chamber.Core.Alerts.Watching;

/// <summary>Two folds may find one condition of one subject by different signs: that probes disagree by their difference, or by the drift
/// of one. It is one alert.</summary>
internal static class SameAlerts
{
    /// <summary>Puts together those that hold at one time: from the first sign to the last.</summary>
    public static IEnumerable<Alert> Merge(IEnumerable<Alert> alerts)
    {
        var merged = new List<Alert>();
        foreach (var alert in alerts.OrderBy(alert => alert.OpenedAt))
        {
            var at = alert.Kind == AlertKind.ProbesDisagree ? merged.FindIndex(alert.IsSameAs) : -1;
            if (at < 0)
            {
                merged.Add(alert);
            }
            else
            {
                merged[at] = Both(merged[at], alert);
            }
        }

        return merged;
    }

    private static Alert Both(Alert first, Alert second)
    {
        var (closedAt, reason) = first.ClosedAt is { } one && second.ClosedAt is { } other
            ? one >= other ? (first.ClosedAt, first.CloseReason) : (second.ClosedAt, second.CloseReason)
            : (null, null);
        return first with { ClosedAt = closedAt, CloseReason = reason, Since = first.Since < second.Since ? first.Since : second.Since };
    }
}
