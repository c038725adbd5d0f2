using NodaTime;

namespace Chamber.Core.Alerts.Notices;

/// <summary>An alert with what people were notified of and did about it.</summary>
/// <param name="Number">Its number in the ledger.</param>
/// <param name="Alert">The alert as it stands.</param>
public sealed record AlertStanding(long Number, Alert Alert)
{
    /// <summary>When somebody said that they had seen it.</summary>
    public Instant? SeenAt { get; init; }

    /// <summary>Nobody is notified of it until then.</summary>
    public Instant? MutedUntil { get; init; }

    /// <summary>What people were notified of so far.</summary>
    public Notified Notified { get; init; }
}

/// <summary>What people were notified of about an alert. The default value is nothing.</summary>
/// <param name="At">When they were last notified; null when never.</param>
/// <param name="Severity">How severe it was said to be.</param>
/// <param name="SeverityAt">When it was first said to be so severe.</param>
/// <param name="Times">How often they were notified at that severity.</param>
/// <param name="Over">Whether they were notified that it is over.</param>
public readonly record struct Notified(Instant? At, Severity Severity, Instant? SeverityAt, int Times, bool Over);

/// <summary>Why people are notified now.</summary>
public enum NoticeReason
{
    /// <summary>It holds, and nobody was notified.</summary>
    Opened,

    /// <summary>It has become worse since they were notified.</summary>
    Worse,

    /// <summary>It still holds, and they were notified long ago.</summary>
    Again,

    /// <summary>It is over, and they were notified that it holds.</summary>
    Over,

    /// <summary>It was a hazard, and over before anybody could be notified.</summary>
    Missed,
}

/// <summary>Tell people this now. Write <see cref="Notified"/> down once it waits in every channel; telling it twice is told apart by
/// number, severity, reason and times.</summary>
/// <param name="Number">Its number in the ledger.</param>
/// <param name="Alert">The alert.</param>
/// <param name="Reason">Why now.</param>
/// <param name="Escalated">Nobody has seen it though they were notified more than once: by every channel, also those kept for such a
/// case.</param>
/// <param name="Notified">What they will have been notified of then.</param>
public sealed record NoticeDecision(long Number, Alert Alert, NoticeReason Reason, bool Escalated, Notified Notified);
