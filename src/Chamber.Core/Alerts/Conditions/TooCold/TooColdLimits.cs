using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.TooCold;

/// <summary>The limits of too cold in force.</summary>
internal sealed class TooColdLimits(WatchLimits limits)
{
    public static readonly NumberLimit LostHours =
        new("too cold lost hours", 6, "h", "hours of progress lost below the cool limit within 24 h");
    public static readonly NumberLimit Margin = new("too cold margin", 1, "K", "how far above the cool limit it is over");
    public static readonly TimeLimit Clear = new("too cold clear", Duration.FromHours(1), "for how long");

    public double LostHoursMin { get; } = limits.Of(LostHours);

    public double MarginKelvins { get; } = limits.Of(Margin);

    public TimeSpan ClearHold { get; } = limits.Of(Clear);
}
