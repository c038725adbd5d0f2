using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>The conditions that the watch looks for. Each has a section in docs/alerts.md with limits, sources and words.</summary>
public enum AlertKind
{
    /// <summary>Progress is lost because a spot lies below the cool limit of what stands there.</summary>
    TooCold,

    /// <summary>A spot lies above the hot limit of what stands there.</summary>
    TooHot,

    /// <summary>Media hot enough to harm seed, or anything hot enough to be a danger: said at once, day or night.</summary>
    Hazard,

    /// <summary>A probe has said nothing for longer than its bound.</summary>
    SilentProbe,

    /// <summary>Nothing at all is heard: the broker, the network or the power, not the probes one by one.</summary>
    NothingHeard,

    /// <summary>The temperature goes up and down far enough to leave the crop's limits on both sides within a day.</summary>
    Swinging,

    /// <summary>A spot has moved away from what is usual for it at this hour.</summary>
    Drifting,

    /// <summary>Media has stayed near its saturated reading too long after wetting.</summary>
    TooWet,

    /// <summary>Media, or the air under a cover, is drying out.</summary>
    DryingOut,

    /// <summary>The cover is still shut long after the first were up.</summary>
    CoverShut,

    /// <summary>Seedlings are up and still stand in the warm and dark.</summary>
    WarmAndDark,

    /// <summary>A probe says things that cannot be.</summary>
    FaultyProbe,

    /// <summary>Two probes of one spot no longer agree as they used to.</summary>
    ProbesDisagree,

    /// <summary>A battery is nearly empty.</summary>
    WeakBattery,

    /// <summary>A probe's clock cannot be trusted.</summary>
    ClockWrong,

    /// <summary>A spot no longer behaves as it did when it was surveyed.</summary>
    SurveyStale,

    /// <summary>So late that one more seedling is unlikely.</summary>
    StopWaiting,

    /// <summary>The first may be up: look.</summary>
    LookNow,
}

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

    /// <summary>Whether two are the same alert, though late readings may have moved its edges: same kind and subject, open at one time.</summary>
    public bool IsSameAs(Alert other) =>
        Kind == other.Kind && Subject == other.Subject
        && (OpenedAt == other.OpenedAt
            || ((ClosedAt is not { } mine || mine > other.OpenedAt) && (other.ClosedAt is not { } theirs || theirs > OpenedAt)));
}
