using Chamber.Core.Alerts;
using Chamber.Core.Batches;

namespace Chamber.Core.Chores;

/// <summary>
/// What one more day of waiting costs, in plants: the measure by which a day's chores are put in order. The shares are common
/// practice, no source; only their order matters, and it is that of harm: what is being cooked or stretched now comes before what
/// may be found a day late.
/// </summary>
public static class WaitingCost
{
    /// <summary>Long and pale within a day or two, or a root grown into the towel.</summary>
    private const double Stretching = 0.3;

    private const double Crowding = 0.03;
    private const double Late = 0.02;

    /// <summary>One more day until the first look: a sprout that nobody saw stands in the warm and dark half the time.</summary>
    private const double Unseen = 0.1;

    /// <summary>A loss that goes on may take all within two or three days.</summary>
    private const double HarmGoesOn = 0.4;

    /// <summary>Days of delay are lost days, not lost plants: twenty of them weigh as much as the batch.</summary>
    private const double ShareOfDelayDay = 0.05;

    /// <summary>Plants lost by leaving a reminder for another day.</summary>
    /// <param name="kind">What is to be done.</param>
    /// <param name="plants">How many plants, or seeds, are at stake; at least 0.</param>
    /// <param name="daysOver">Days since it was due; at least 0. What is long overdue is no more urgent than twice as much.</param>
    public static double OfReminder(ReminderKind kind, int plants, int daysOver)
    {
        var share = kind switch
        {
            ReminderKind.ToTheLight or ReminderKind.PlantFromTowel => Stretching,
            ReminderKind.Look => Unseen,
            ReminderKind.PrickOut => Crowding,
            _ => Late,
        };
        return share * plants * (1 + Math.Min(1, daysOver / 7.0));
    }

    /// <summary>Plants lost by leaving an alert for another day; danger to people comes before any number of plants.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="plantsOf">How many plants, or seeds, a batch has.</param>
    public static double OfAlert(Alert alert, Func<BatchId, int> plantsOf)
    {
        ArgumentNullException.ThrowIfNull(alert);
        ArgumentNullException.ThrowIfNull(plantsOf);
        var harm = alert.Harm.Sum(
            one => plantsOf(one.Batch) * Math.Min(1, Math.Max(one.ShareLost, one.ShareAtStake) + ShareOfDelayDay * one.DelayHours / 24));
        return alert.Severity switch
        {
            Severity.Danger => double.PositiveInfinity,
            Severity.Urgent => Math.Max(1, HarmGoesOn * Math.Max(harm, alert.Harm.Sum(one => plantsOf(one.Batch)))),
            Severity.Warning => Math.Max(0.5, harm),
            _ => harm,
        };
    }
}
