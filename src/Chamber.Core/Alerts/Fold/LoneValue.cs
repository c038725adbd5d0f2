using Chamber.Core.Alerts.Limits;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A temperature far off the one just before: it waits for the next one before it counts.</summary>
internal static class LoneValue
{
    public static readonly NumberLimit Size =
        new("spike size", 8, "K", "a reading this far from the one before waits for the next one before it counts");

    /// <summary>Further apart than this two readings say nothing of one another (common practice, no source).</summary>
    private static readonly TimeSpan Span = TimeSpan.FromMinutes(15);

    /// <summary>Whether a temperature is further off the last than that.</summary>
    public static bool IsSuspect(StationState station, in TimedTemperature now, double kelvins) =>
        station.IsOffLast(now, kelvins, Span);
}
