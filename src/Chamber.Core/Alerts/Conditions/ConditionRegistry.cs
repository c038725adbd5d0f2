using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions;

/// <summary>
/// Every condition that the watch looks for, one line each. A condition is a folder beside this file with everything about it; adding its
/// line here is all that is needed for it to be watched, reported, scripted, set and documented. The order is that in which alerts of one
/// moment are listed.
/// </summary>
public static class ConditionRegistry
{
    internal static ConditionSet Standard { get; } = new(
    [
        new TooCold.TooColdCondition(),
        new TooHot.TooHotCondition(),
        new Hazard.HazardCondition(),
        new SilentProbe.SilentProbeCondition(),
        new NothingHeard.NothingHeardCondition(),
        new Swinging.SwingingCondition(),
        new Drifting.DriftingCondition(),
        new TooWet.TooWetCondition(),
        new DryingOut.DryingOutCondition(),
        new CoverShut.CoverShutCondition(),
        new WarmAndDark.WarmAndDarkCondition(),
        new FaultyProbe.FaultyProbeCondition(),
        new ProbesDisagree.ProbesDisagreeCondition(),
        new WeakBattery.WeakBatteryCondition(),
        new ClockWrong.ClockWrongCondition(),
        new SurveyStale.SurveyStaleCondition(),
        new StopWaiting.StopWaitingCondition(),
        new LookNow.LookNowCondition(),
    ]);

    /// <summary>The kinds of alerts, in order.</summary>
    public static IReadOnlyList<AlertKind> Kinds => Standard.Kinds;

    /// <summary>Compares two kinds by their order here.</summary>
    public static IComparer<AlertKind> Order { get; } = Comparer<AlertKind>.Create((one, other) => Standard.Compare(one, other));

    /// <summary>The kind of a name as the ledger keeps it; null for one that this version does not know.</summary>
    public static AlertKind? Find(string name) => Kinds.Contains(new(name)) ? new(name) : null;

    /// <summary>The usual value of a limit that is a number, in its own unit.</summary>
    /// <param name="name">Its name in docs/alerts.md: <c>hazard danger</c>.</param>
    /// <exception cref="InvalidOperationException">There is no such limit.</exception>
    public static double UsualLimit(string name) => Standard.Limits.OfType<NumberLimit>().Single(limit => limit.Name == name).Usual;

    /// <summary>An alert in the words of its condition.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="facts">For the kinds of spots and the names of crops.</param>
    /// <param name="style">Units and zone.</param>
    public static AlertText InWords(Alert alert, HomeFacts facts, WordStyle style) => InWords(Standard, alert, facts, style);

    internal static AlertText InWords(ConditionSet conditions, Alert alert, HomeFacts facts, WordStyle style)
    {
        ArgumentNullException.ThrowIfNull(alert);
        ArgumentNullException.ThrowIfNull(facts);
        var teller = new AlertTeller(alert, facts, style);
        var condition = conditions.Of(alert.Kind);
        var text = condition.Words(teller) with { Cautions = AlertCautions.Of(alert, condition, facts) };
        return alert.IsOpen ? text : text with { What = $"{text.What} {teller.Ending()}", ToDo = "" };
    }
}
