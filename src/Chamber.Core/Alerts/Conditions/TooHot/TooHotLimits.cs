using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.TooHot;

/// <summary>The limits of too hot in force.</summary>
internal sealed class TooHotLimits(WatchLimits limits)
{
    public static readonly TimeLimit Hold = new("too hot hold", Duration.FromMinutes(30),
        "above the hot limit for so long, by a probe in the media or on the outside of the container");

    public static readonly TimeLimit AirHold = new(
        "too hot air hold", Duration.FromMinutes(60),
            "the same by a probe in the air: media lags it by 1 to 3 h, so that short peaks do not reach the seed");

    public static readonly NumberLimit Margin = new("too hot margin", 1, "K", "how far below the hot limit it is over");
    public static readonly TimeLimit Clear = new("too hot clear", Duration.FromMinutes(30), "for how long");
    public static readonly NumberLimit ForSeedlings =
        new("too hot for seedlings by", 10, "K", "how far above the top of their growing day it is too hot for seedlings");

    private readonly TimeSpan hold = limits.Of(Hold);
    private readonly TimeSpan airHold = limits.Of(AirHold);

    public double MarginKelvins { get; } = limits.Of(Margin);

    public TimeSpan ClearHold { get; } = limits.Of(Clear);

    public double SeedlingKelvins { get; } = limits.Of(ForSeedlings);

    public TimeSpan HoldBy(Measurand measurand) => measurand == Measurand.Air ? airHold : hold;
}
