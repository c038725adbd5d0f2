using Chamber.Core.Alerts;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>
/// The rule by which a spot has left its survey, for the watch and for whoever looks back: for so long on end the mean of the last 24 hours has differed
/// from the surveyed day, hour for hour, by more than a limit; it is back when it has differed by less than half of that for as long.
/// A whole day never jumps from one side to the other within an hour, so that the side need not be kept.
/// </summary>
internal struct LeftSurvey(IReadOnlyList<double?> usualCelsius)
{
    private HeldCondition held;

    /// <summary>The state of the rule, with its times.</summary>
    public readonly HeldCondition Held => held;

    /// <summary>How far a day lies off, K; null when none of its hours was surveyed.</summary>
    public readonly double? Off(LastDay day) => usualCelsius is null ? null : day.MeanOff(usualCelsius);

    /// <summary>Judges the day that ends now.</summary>
    public Turn Judge(long end, double off, double limitKelvins, long hold) =>
        held.Judge(end, Math.Abs(off) > limitKelvins, Math.Abs(off) < limitKelvins / 2, hold, hold);

    /// <summary>Whether a spot had left a surveyed day at the end of the hours after it, by the usual limits.</summary>
    public static bool HasLeft(HourOfDayProfile usual, IEnumerable<HourlyMean> after)
    {
        var limits = new WatchLimits();
        var rule = new LeftSurvey([.. usual.Hours.Select(hour => hour?.Mean.Celsius)]);
        var day = new LastDay();
        foreach (var hour in after)
        {
            day.Add(hour.Hour, hour.Mean.Celsius);
            if (day.IsFull && rule.Off(day) is { } off)
            {
                rule.Judge(EndOf(hour.Start.ToUnixTimeTicks()), off, limits.StaleKelvins, limits.StaleHold.BclCompatibleTicks);
            }
        }

        return rule.Held.IsOpen;
    }

    private static long EndOf(long ticks) => (ticks / NodaConstants.TicksPerHour + 1) * NodaConstants.TicksPerHour;
}
