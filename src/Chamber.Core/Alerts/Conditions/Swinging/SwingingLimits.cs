using Chamber.Core.Alerts.Conditions.TooHot;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.Swinging;

/// <summary>The limits of swinging in force.</summary>
internal sealed class SwingingLimits(WatchLimits limits)
{
    public static readonly NumberLimit Cold = new("swing cold hours", 2, "h", "hours below the cool limit within 24 h");
    public static readonly NumberLimit Hot = new("swing hot hours", 1, "h", "and hours above the hot limit");

    public double ColdHours { get; } = limits.Of(Cold);

    public double HotHours { get; } = limits.Of(Hot);

    /// <summary>K, as for too hot.</summary>
    public double SeedlingKelvins { get; } = limits.Of(TooHotLimits.ForSeedlings);
}
