using Chamber.Core.Alerts.Limits;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.SurveyStale;

/// <summary>The limits of a stale survey in force.</summary>
internal sealed class SurveyStaleLimits(WatchLimits limits)
{
    public static readonly NumberLimit By = new("survey stale by", SurveyRule.UsualKelvins, "K",
        "the mean of 24 h this far from that of the survey; over at half of it");
    public static readonly TimeLimit Hold = new("survey stale hold", Duration.FromHours(SurveyRule.UsualHours), "for so long");

    public double Kelvins { get; } = limits.Of(By);

    public TimeSpan HoldTime { get; } = limits.Of(Hold);
}
