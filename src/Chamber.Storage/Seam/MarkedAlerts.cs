using Chamber.Core.Facts;

namespace Chamber.Storage.Seam;

/// <summary>Alerts with what people did about them, where that stands in the facts alone.</summary>
public static class MarkedAlerts
{
    /// <param name="alerts">As they were told, in the order in which they were opened.</param>
    /// <param name="marks">Who had seen them and who wanted quiet, in order of time.</param>
    public static List<AlertEntry> Of(IEnumerable<AlertEntry> alerts, IReadOnlyList<AlertMark> marks)
    {
        ArgumentNullException.ThrowIfNull(marks);
        List<AlertEntry> stood = [.. alerts];
        foreach (var mark in marks)
        {
            // The one that was open then, or the last one before.
            var i = stood.FindLastIndex(alert => alert.Kind.Name == mark.Condition && alert.Subject.Name == mark.About.Name
                && alert.Subject.Kind.ToString() == mark.About.Kind.ToString() && alert.OpenedAt <= mark.At);
            if (i >= 0)
            {
                stood[i] = mark.SeenBy is { } by ? stood[i] with { SeenAt = mark.At, SeenBy = by }
                    : stood[i] with { MutedUntil = mark.MutedUntil };
            }
        }

        return stood;
    }
}
