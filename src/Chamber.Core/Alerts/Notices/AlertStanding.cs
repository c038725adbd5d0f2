using NodaTime;

namespace Chamber.Core.Alerts.Notices;

/// <summary>An alert with what people were told of it and did about it.</summary>
/// <param name="Number">Its number in the ledger.</param>
/// <param name="Alert">The alert as it stands.</param>
public sealed record AlertStanding(long Number, Alert Alert)
{
    /// <summary>When somebody said that they had seen it.</summary>
    public Instant? SeenAt { get; init; }

    /// <summary>Nothing is told of it until then.</summary>
    public Instant? MutedUntil { get; init; }

    /// <summary>What people were told so far.</summary>
    public Notified Notified { get; init; }
}

/// <summary>What people were told of an alert. The default value is nothing.</summary>
/// <param name="At">When they were told last; null when never.</param>
/// <param name="Severity">How severe it was said to be.</param>
/// <param name="SeverityAt">When it was first said to be so severe.</param>
/// <param name="Times">How often they were told at that severity.</param>
/// <param name="Over">Whether they were told that it is over.</param>
public readonly record struct Notified(Instant? At, Severity Severity, Instant? SeverityAt, int Times, bool Over);

/// <summary>Why people are told now.</summary>
public enum NoticeReason
{
    /// <summary>It holds, and nobody was told.</summary>
    Opened,

    /// <summary>It has become worse since they were told.</summary>
    Worse,

    /// <summary>It still holds, and they were told long ago.</summary>
    Again,

    /// <summary>It is over, and they were told that it holds.</summary>
    Over,

    /// <summary>It was a hazard, and over before anybody could be told.</summary>
    Missed,
}

/// <summary>Tell people this now. Write <see cref="Notified"/> down once it waits in every channel; telling it twice is told apart by
/// number, severity, reason and times.</summary>
/// <param name="Number">Its number in the ledger.</param>
/// <param name="Alert">The alert.</param>
/// <param name="Reason">Why now.</param>
/// <param name="Escalated">Nobody has seen it though they were told more than once: by every channel, also those kept for such a
/// case.</param>
/// <param name="Notified">What they will have been told then.</param>
public sealed record NoticeDecision(long Number, Alert Alert, NoticeReason Reason, bool Escalated, Notified Notified);
