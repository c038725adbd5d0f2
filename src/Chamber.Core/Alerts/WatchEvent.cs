using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>What a step of the watch has to say.</summary>
public abstract record WatchEvent;

/// <summary>Something that happened to an alert.</summary>
/// <param name="Alert">The alert as it stands then.</param>
public abstract record AlertEvent(Alert Alert) : WatchEvent;

/// <summary>A condition holds.</summary>
/// <param name="Alert">The alert. It may already lie in the past: then an <see cref="AlertClosed"/> follows.</param>
public sealed record AlertOpened(Alert Alert) : AlertEvent(Alert);

/// <summary>An open alert has become more severe.</summary>
public sealed record AlertWorsened(Alert Alert) : AlertEvent(Alert);

/// <summary>What was said of an alert is no longer so: its numbers have grown, another reason is known, or what came late has moved its
/// edges. Nobody need be notified by that alone.</summary>
public sealed record AlertAmended(Alert Alert) : AlertEvent(Alert);

/// <summary>A condition no longer holds; the alert says when and why.</summary>
public sealed record AlertClosed(Alert Alert) : AlertEvent(Alert);

/// <summary>
/// A reading or a fact came too late for the running fold. Read the journal for the probes of the location from
/// <paramref name="From"/> on, in order of time, and give it to the watch to fold again.
/// </summary>
/// <param name="Location">Which location.</param>
/// <param name="From">Readings are wanted from here, inclusive; null for all there are.</param>
public sealed record RefoldNeeded(Location Location, Instant? From) : WatchEvent;

/// <summary>Where readings are folded: a spot, or a probe that is on none.</summary>
/// <param name="Spot">The spot, or null.</param>
/// <param name="LoneProbe">The probe when there is no spot.</param>
public readonly record struct Location(SpotId? Spot, Climate.ProbeId? LoneProbe)
{
    public static Location Of(SpotId spot) => new(spot, null);

    public static Location Of(Climate.ProbeId probe) => new(null, probe);

    public override string ToString() => Spot?.Text ?? LoneProbe?.Text ?? "(none)";
}
