using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>How much it matters that somebody acts.</summary>
public enum Severity
{
    /// <summary>Worth knowing, today or tomorrow.</summary>
    Note,

    /// <summary>Costs days or seed while it lasts.</summary>
    Warning,

    /// <summary>Harm is being done now.</summary>
    Urgent,

    /// <summary>People or the home may be hurt.</summary>
    Danger,
}

/// <summary>Why an alert was closed.</summary>
public enum CloseReason
{
    /// <summary>The condition no longer holds.</summary>
    Over,

    /// <summary>Readings that came late show that it never held.</summary>
    Withdrawn,

    /// <summary>What it was about is no longer there: the batch has moved or ended, the probe was taken away.</summary>
    Gone,

    /// <summary>It was a lone wild reading; the ones after it are ordinary.</summary>
    LoneReading,

    /// <summary>It has lasted so long that it is now the usual.</summary>
    NowUsual,

    /// <summary>Another alert tells the same cause.</summary>
    OtherCause,
}

/// <summary>What sort of thing an alert is about.</summary>
public enum SubjectKind
{
    Home,
    Spot,
    Probe,
    Batch,
}

/// <summary>What an alert is about. At most one alert of a kind is open for one subject.</summary>
/// <param name="Kind">What sort of thing.</param>
/// <param name="Name">Its name; "home" for the home.</param>
public readonly record struct AlertSubject(SubjectKind Kind, string Name)
{
    public static AlertSubject Home { get; } = new(SubjectKind.Home, "home");

    public static AlertSubject Of(Spots.SpotId spot) => new(SubjectKind.Spot, spot.Text);

    public static AlertSubject Of(Climate.ProbeId probe) => new(SubjectKind.Probe, probe.Text);

    public static AlertSubject Of(Batches.BatchId batch) => new(SubjectKind.Batch, batch.Text);

    public override string ToString() => Name;
}

/// <summary>An alert: a condition that holds or held.</summary>
/// <param name="Kind">Which condition.</param>
/// <param name="Subject">What it is about.</param>
/// <param name="Severity">The worst it has been.</param>
/// <param name="Since">Since when the condition holds.</param>
/// <param name="OpenedAt">When it had held long enough to say so.</param>
/// <param name="ClosedAt">When it was over; null while open.</param>
/// <param name="CloseReason">Why it was closed; null while open.</param>
/// <param name="Evidence">What it rests on.</param>
/// <param name="Harm">What it means for each batch concerned.</param>
public sealed record Alert(
    AlertKind Kind,
    AlertSubject Subject,
    Severity Severity,
    Instant Since,
    Instant OpenedAt,
    Instant? ClosedAt,
    CloseReason? CloseReason,
    AlertEvidence Evidence,
    IReadOnlyList<BatchHarm> Harm)
{
    /// <summary>Whether it is open.</summary>
    public bool IsOpen => ClosedAt is null;

    /// <summary>Whether two are the same alert, though late readings may have moved its edges: same kind and subject, open at one
    /// time.</summary>
    public bool IsSameAs(Alert other) =>
        Kind == other.Kind && Subject == other.Subject
        && (OpenedAt == other.OpenedAt
            || ((ClosedAt is not { } mine || mine > other.OpenedAt) && (other.ClosedAt is not { } theirs || theirs > OpenedAt)));
}
