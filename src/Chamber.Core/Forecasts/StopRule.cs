using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>
/// When to stop waiting. If no further seedling shows until t, the chance that one ever will is 1 - P(none ever)/P(none by t):
/// silence itself is evidence, so the chance falls even where the seed was thought to be good. The day is the one on which the
/// expected warm-hours reach what that takes. A silence that nobody saw proves nothing: without a look about that day or later, or when
/// the last one is two weeks old, a look is asked for first.
/// </summary>
internal static class StopRule
{
    /// <summary>Half of the seeds of most batches are up by this many times the warmth that half of them need on average.</summary>
    private const double WarmEnough = 1.3;

    /// <summary>A batch that will not have had that warmth in three weeks is slow where it is.</summary>
    private const double ThreeWeeksHours = 21 * 24;

    /// <summary>A look this long before the day is as good as one on it.</summary>
    private const double LookLeewayHours = 24;

    /// <summary>Nothing is given up on the word of a look as old as this. Common practice, no source.</summary>
    private const double LookOldHours = 14 * 24;

    /// <summary>Warm-hours that were turned into a logarithm and back differ by less than this share.</summary>
    private const double Rounding = 1e-9;

    public static StopWaiting Find(
        EmergencePrior prior, EmergenceBelief belief, Situation situation, double stopBelow)
    {
        if (situation.Seeds == belief.Seen.Up)
        {
            return new(situation.Now - situation.SownAt, true) { AllUp = true };
        }

        var enough = new Silence(prior, belief).WarmHoursUntil(stopBelow);
        var missing = enough - situation.WarmHoursNow;
        var hasCome = missing <= Rounding * enough;
        var hours = hasCome
            ? Math.Min(situation.NowHours, situation.Past?.HourOf(enough) ?? situation.NowHours)
            : EventClock.FirstHour(at => situation.Ahead.Expected(at).CelsiusHours >= missing, 0) + situation.NowHours;
        var wasSeen = situation.Looks is [.., var look] && (look.At - situation.SownAt).TotalHours >= hours - LookLeewayHours
            && (situation.Now - look.At).TotalHours < LookOldHours;
        return new(hours is { } found ? Duration.FromHours(found) : null, hasCome && wasSeen)
        {
            NeedsLook = hasCome && !wasSeen,
            IsSlow = IsSlow(prior, situation),
        };
    }

    private static bool IsSlow(EmergencePrior prior, Situation situation)
    {
        var wanted = WarmEnough * Math.Exp(prior.LogHalfMoments().Mean);
        return situation.WarmHoursNow < wanted && situation.WarmHoursNow + situation.Ahead.Expected(ThreeWeeksHours).CelsiusHours < wanted;
    }
}
