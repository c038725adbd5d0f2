using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.Hazard;

/// <summary>The limits of a hazard in force.</summary>
internal sealed class HazardLimits(WatchLimits limits)
{
    public static readonly NumberLimit Harm = new("hazard harm", 40, "°C", "media above which seed is harmed");
    public static readonly NumberLimit Danger = new("hazard danger", 50, "°C", "anything above which there is danger");
    public static readonly NumberLimit Margin = new("hazard margin", 2, "K", "how far below its limit it is over");
    public static readonly TimeLimit Clear = new("hazard clear", Duration.FromMinutes(15), "for how long");

    private readonly double harm = limits.Of(Harm);

    public double DangerCelsius { get; } = limits.Of(Danger);

    public double MarginKelvins { get; } = limits.Of(Margin);

    public TimeSpan ClearHold { get; } = limits.Of(Clear);

    /// <summary>°C by what a probe measures. The outside of a bag or a box is as hot as what is in it only when something stands
    /// there.</summary>
    public double Of(Measurand measurand, bool isUsed) =>
        measurand == Measurand.Media || (measurand == Measurand.OutsideSurface && isUsed) ? harm : DangerCelsius;
}
