using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Spots;

/// <summary>
/// The rule by which a spot has moved away from its survey, for the watch and for whoever looks back: for so long on end the mean of the
/// last 24 hours has differed from the surveyed day, hour for hour, by more than a limit; it is back when it has differed by less than half
/// of that for as long. A whole day never jumps from one side to the other within an hour, so that the side need not be kept.
/// </summary>
internal static class SurveyRule
{
    /// <summary>How far off, K, unless somebody has set another limit (common practice, no source).</summary>
    public const double UsualKelvins = 2;

    /// <summary>For how long, h, unless somebody has set another limit (common practice, no source).</summary>
    public const int UsualHours = 24;

    /// <summary>Judges the day that ends now.</summary>
    public static Transition Step(ref HeldCondition state, Moment end, TemperatureDifference off, double limitKelvins, TimeSpan hold) =>
        state.Judge(
        end, Math.Abs(off.Kelvins) > limitKelvins, Math.Abs(off.Kelvins) < limitKelvins / 2, hold, hold);

    /// <summary>Whether a spot had moved away from a surveyed day at the end of the hours after it, by the usual limits.</summary>
    public static bool HasMovedAway(HourOfDayProfile surveyed, IEnumerable<HourlyMean> after)
    {
        double?[] hours = [.. surveyed.Hours.Select(hour => hour?.Mean.Celsius)];
        var state = default(HeldCondition);
        var day = default(LastDay);
        foreach (var hour in after)
        {
            day.Add(hour.Hour, hour.Mean);
            if (day.IsFull && day.MeanOff(hours) is { } off)
            {
                Step(ref state, Moment.Of(hour.Start).NextHour, off, UsualKelvins, TimeSpan.FromHours(UsualHours));
            }
        }

        return state.IsOpen;
    }
}
