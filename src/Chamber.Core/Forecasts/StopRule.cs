using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>
/// When to stop waiting. If no further seedling shows until t, the chance that one ever will is 1 - P(none ever)/P(none by t):
/// silence itself is evidence, so the chance falls even where the seed was thought to be good. The day is the one on which the
/// expected warm-hours reach what that takes.
/// </summary>
internal static class StopRule
{
    /// <summary>A batch that has had less than this share of the warmth that half of its seeds need isn't late, it is cold.</summary>
    private const double WarmEnough = 1.3;

    /// <summary>Progress below this share of what it would need to be done in three weeks marks a cold spot.</summary>
    private const double ThreeWeeksHours = 21 * 24;

    /// <summary>Seed of which fewer than this share is expected to come up was doubtful from the start.</summary>
    private const double DoubtfulShare = 0.6;

    public static StopWaiting Find(
        EmergencePrior prior, EmergenceBelief belief, Situation situation, double stopBelow)
    {
        if (situation.Seeds == belief.Seen.Up)
        {
            return new(situation.Now - situation.SownAt, true, SilenceReason.AllUp, "All are up: nothing is left to wait for.");
        }

        var silence = new Silence(prior, belief);
        var enough = silence.WarmHoursUntil(stopBelow);
        var missing = enough - situation.WarmHoursNow;
        var hours = missing <= 0
            ? situation.NowHours
            : EventClock.FirstHour(at => situation.Ahead.Expected(at).CelsiusHours >= missing, 0) + situation.NowHours;
        var due = hours <= situation.NowHours;
        var reason = Reason(prior, situation);
        return new(hours is { } found ? Duration.FromHours(found) : null, due, reason, Advice(reason, due, hours is null));
    }

    private static SilenceReason Reason(EmergencePrior prior, Situation situation)
    {
        var half = Math.Exp(prior.LogHalfMoments().Mean);
        var isWarm = situation.WarmHoursNow >= WarmEnough * half;
        var comes = situation.Ahead.Expected(ThreeWeeksHours).CelsiusHours >= WarmEnough * half;
        if (!isWarm && !comes)
        {
            return SilenceReason.ColdSpot;
        }

        if (prior.Germinable.Mean >= DoubtfulShare)
        {
            return SilenceReason.Late;
        }

        return prior.SeedShare >= DoubtfulShare ? SilenceReason.WrongTemperature : SilenceReason.WeakLot;
    }

    private static string Advice(SilenceReason reason, bool due, bool never) => (reason, due) switch
    {
        (SilenceReason.ColdSpot, _) when never => "Move it: at this temperature the seed will not come up at all.",
        (SilenceReason.ColdSpot, true) => "Stop waiting. The spot was too cold for too long; dig up one seed: firm, move the rest to a warmer spot; soft, sow again there.",
        (SilenceReason.ColdSpot, false) => "The spot is cold for this crop: move the batch to a warmer one rather than wait.",
        (SilenceReason.WrongTemperature, true) => "Stop waiting. At this temperature much of sound seed does not come up: sow again where it stands nearer its ideal band.",
        (SilenceReason.WrongTemperature, false) => "At this temperature much of sound seed does not come up, heat mostly: move it nearer its ideal band today.",
        (SilenceReason.WeakLot, true) => "Stop waiting and sow again, from a fresher lot or several times as thickly. Test the rest of this lot before sowing it.",
        (SilenceReason.WeakLot, false) => "The seed was doubtful from the start: wait until then, and sow a second batch from another lot if there is no time to lose.",
        (_, true) => "Stop waiting. Dig up one seed: firm, give it a few days more; soft or hollow, sow again.",
        _ => "Wait until then. If nothing more is up, dig up one seed: firm, wait; soft, sow again.",
    };
}
