using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.TooWet;

/// <summary>The limits of too wet in force.</summary>
internal sealed class TooWetLimits(WatchLimits limits)
{
    public static readonly NumberLimit Above = new("too wet above", 90, "%", "media above this share of its own saturated reading");
    public static readonly TimeLimit MixHold =
        new("too wet mix hold", Duration.FromHours(24), "for so long since it was wetted last, in mix");
    public static readonly TimeLimit TowelHold =
        new("too wet towel hold", Duration.FromHours(12), "and in a towel, in which seed lies in the water itself");

    private readonly TimeSpan mix = limits.Of(MixHold);
    private readonly TimeSpan towel = limits.Of(TowelHold);

    public double WetPercent { get; } = limits.Of(Above);

    public MoistureLimits Moisture { get; } = new(limits);

    public TimeSpan HoldOf(bool isTowel) => isTowel ? towel : mix;
}
