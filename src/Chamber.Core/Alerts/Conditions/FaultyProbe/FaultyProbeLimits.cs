using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>The limits of a faulty probe in force.</summary>
internal sealed class FaultyProbeLimits(WatchLimits limits)
{
    /// <summary>So many of one fault within its time (common practice, no source).</summary>
    public const int FaultCount = 3;

    public static readonly TimeLimit FlatLine =
        new("flat line hold", Duration.FromHours(24), "the same value to the last digit for so long, over at least 48 readings");
    public static readonly TimeLimit Saturated =
        new("saturated hold", Duration.FromHours(24), "humidity at its upper end for so long in air that is known to be open");

    public TimeSpan FlatHold { get; } = limits.Of(FlatLine);

    public TimeSpan SaturatedHold { get; } = limits.Of(Saturated);
}
