using Chamber.Core.Alerts;
using NodaTime;

namespace Chamber.Storage.Seam;

/// <summary>An alert as it was reported: what Core said of it, and what people did with it.</summary>
/// <param name="Number">Its number, growing; 0 for one that is not recorded yet.</param>
/// <param name="Kind">Which condition; of another version it may be one that this one does not know.</param>
/// <param name="Subject">What it is about.</param>
/// <param name="Severity">The worst it has been.</param>
/// <param name="Since">Since when the condition holds.</param>
/// <param name="OpenedAt">When it was said.</param>
/// <param name="EvidenceJson">What it rests on, as JSON.</param>
public sealed record AlertEntry(
    long Number,
    AlertKind Kind,
    AlertSubject Subject,
    Severity Severity,
    Instant Since,
    Instant OpenedAt,
    string EvidenceJson)
{
    /// <summary>When it was over; null while open.</summary>
    public Instant? ClosedAt { get; init; }

    /// <summary>Why it was closed.</summary>
    public CloseReason? CloseReason { get; init; }

    /// <summary>When somebody said that they had seen it.</summary>
    public Instant? SeenAt { get; init; }

    /// <summary>Who that was.</summary>
    public string? SeenBy { get; init; }

    /// <summary>No notices until then.</summary>
    public Instant? MutedUntil { get; init; }

    /// <summary>What people were notified of.</summary>
    public NotifiedEntry Notified { get; init; } = new(null, null, null, 0, false);
}

/// <summary>What people were notified of about an alert.</summary>
/// <param name="At">When they were last notified; null when never.</param>
/// <param name="Severity">How severe it was said to be.</param>
/// <param name="SeverityAt">When it was first said to be so severe.</param>
/// <param name="Times">How often at that severity.</param>
/// <param name="Over">Whether they were notified that it is over.</param>
public sealed record NotifiedEntry(Instant? At, Severity? Severity, Instant? SeverityAt, int Times, bool Over);

/// <summary>A time in which nothing could be heard.</summary>
/// <param name="When">From when to when; without an end while it lasts.</param>
/// <param name="Cause">Why.</param>
public sealed record OutageEntry(Interval When, OutageCause Cause);
