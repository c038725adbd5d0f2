using Chamber.Core.Alerts.Limits;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.CoverShut;

/// <summary>The limits of a shut cover in force.</summary>
internal sealed class CoverShutLimits(WatchLimits limits)
{
    public static readonly TimeLimit MixHold =
        new("cover mix hold", Duration.FromHours(24), "so long after the first were up in mix; a warning after twice that");
    public static readonly TimeLimit TowelHold =
        new("cover towel hold", Duration.FromHours(12), "the same for roots in a towel, which grow into it");

    private readonly TimeSpan mix = limits.Of(MixHold);
    private readonly TimeSpan towel = limits.Of(TowelHold);

    public TimeSpan HoldOf(bool isTowel) => isTowel ? towel : mix;
}
