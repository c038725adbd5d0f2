using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.DryingOut;

/// <summary>The limits of drying out in force.</summary>
internal sealed class DryingOutLimits(WatchLimits limits)
{
    public static readonly NumberLimit Mix = new("dry mix below", 30, "%", "mix below this share of its own saturated reading");
    public static readonly NumberLimit Towel = new("dry towel below", 50, "%", "a towel below this share");
    public static readonly NumberLimit LidTightAbove =
        new("lid tight above", 95, "%", "air above this humidity shows that a cover is shut");
    public static readonly TimeLimit LidTight = new("lid tight hold", Duration.FromHours(6), "for so long");
    public static readonly NumberLimit LidDryBelow =
        new("lid dry below", 85, "%", "under a cover that was shut the air falls below this humidity");
    public static readonly TimeLimit LidDry = new("lid dry hold", Duration.FromHours(3), "for so long");

    private readonly double mix = limits.Of(Mix);
    private readonly double towel = limits.Of(Towel);

    public MoistureLimits Moisture { get; } = new(limits);

    public double LidTightPercent { get; } = limits.Of(LidTightAbove);

    public TimeSpan LidTightHold { get; } = limits.Of(LidTight);

    public double LidDryPercent { get; } = limits.Of(LidDryBelow);

    public TimeSpan LidDryHold { get; } = limits.Of(LidDry);

    public double DryPercent(bool isTowel) => isTowel ? towel : mix;
}
