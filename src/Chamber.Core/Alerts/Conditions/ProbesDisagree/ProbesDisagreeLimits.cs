using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.ProbesDisagree;

/// <summary>The limits of probes that disagree in force.</summary>
internal sealed class ProbesDisagreeLimits(WatchLimits limits)
{
    public static readonly NumberLimit By = new("disagree by", 1.5, "K",
        "the difference of two probes of one measurand this far from what it was while they agreed; over at half of it");
    public static readonly TimeLimit Hold = new("disagree hold", Duration.FromHours(6), "for so long");

    public double Kelvins { get; } = limits.Of(By);

    public TimeSpan HoldTime { get; } = limits.Of(Hold);
}
