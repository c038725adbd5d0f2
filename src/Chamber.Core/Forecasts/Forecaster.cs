using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Forecasts;

/// <summary>Forecasts of one batch. Pure: the same situation gives the same answer.</summary>
public static class Forecaster
{
    /// <summary>Below this chance of one more seedling nobody should wait any longer.</summary>
    public const double StopBelow = 0.05;

    private const double LowTail = 0.1;
    private const double HighTail = 0.9;

    /// <summary>The forecast of a batch from what was believed before it was sown and what was seen since.</summary>
    /// <param name="prior">What was believed before.</param>
    /// <param name="situation">Where it stands.</param>
    /// <param name="stopBelow">The chance of one more seedling under which waiting ends, above 0, below 1.</param>
    public static EmergenceForecast Forecast(EmergencePrior prior, Situation situation, double stopBelow = StopBelow)
    {
        var belief = EmergenceBelief.After(prior, situation.Seen);
        var odds = EventOdds.Of(belief, EverWarmHours(prior, situation));
        var clock = new EventClock(situation, belief, odds);
        double seeds = situation.Seeds;
        var (low, high) = (odds.CountQuantile(LowTail), odds.CountQuantile(HighTail));
        return new(
            situation.Event,
            Estimate(clock, odds, Milestone.First, high),
            Estimate(clock, odds, Milestone.Half, high),
            Estimate(clock, odds, Milestone.Most, high),
            new ShareInterval(low / seeds, odds.CountQuantile(0.5) / seeds, high / seeds),
            low,
            high,
            belief.Seen.Up > 0 ? 1 : clock.Passed(Milestone.First, situation.NowHours),
            odds.Ever(Milestone.Next),
            StopRule.Find(prior, belief, situation, stopBelow));
    }

    /// <summary>The warm-hours that the batch will ever have before its seed has rotted; none where no seed can come up.</summary>
    private static double EverWarmHours(EmergencePrior prior, Situation situation)
    {
        if (!prior.IsPossible)
        {
            return 0;
        }

        var wait = prior.WaitDays is { } days ? Math.Min(EventClock.HoursMax, Math.Max(0, days * 24 - situation.NowHours))
            : EventClock.HoursMax;
        return situation.WarmHoursNow + situation.Ahead.Expected(wait).CelsiusHours;
    }

    private static TimeEstimate Estimate(EventClock clock, EventOdds odds, Milestone milestone, int high)
    {
        var ever = odds.Ever(milestone);
        if (high == 0)
        {
            // A day for what nine times in ten never happens would only be taken for a promise.
            return new(null, null, null, ever);
        }

        return new(At(LowTail), At(0.5), At(HighTail), ever);

        Duration? At(double share) =>
            ever > 0 && clock.Reaches(milestone, share * ever) is { } hours ? Duration.FromHours(hours) : null;
    }
}
