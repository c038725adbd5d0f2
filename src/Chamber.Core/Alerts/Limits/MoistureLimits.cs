using NodaTime;

namespace Chamber.Core.Alerts.Limits;

/// <summary>Limits that too wet and drying out have in common.</summary>
internal sealed class MoistureLimits(WatchLimits limits)
{
    public static readonly NumberLimit Margin =
        new("moisture margin", 5, "%", "how far moisture must come back before too wet or drying out is over");
    public static readonly TimeLimit Hold = new("drying out hold", Duration.FromHours(1), "for so long it is too dry, or again dry enough");

    public double MarginPercent { get; } = limits.Of(Margin);

    public TimeSpan DryHold { get; } = limits.Of(Hold);
}
