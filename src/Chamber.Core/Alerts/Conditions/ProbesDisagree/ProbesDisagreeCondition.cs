using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.ProbesDisagree;

/// <summary>Two probes of one spot no longer agree as they used to.</summary>
internal sealed class ProbesDisagreeCondition : Condition
{
    public override AlertKind Kind => AlertKind.ProbesDisagree;

    public override IReadOnlyList<Limit> Limits => [ProbesDisagreeLimits.By, ProbesDisagreeLimits.Hold];

    public override ConditionDocs Docs { get; } = new(
        "two probes of one measurand on one spot: their difference lies 1.5 K from its usual for 6 h; or one drifts and the "
            + "other has not moved.",
        "at half of it for 6 h.");

    public override ConditionWatch At(LocationState location) => new ProbesDisagreeWatch(this, location);

    public override AlertText Words(AlertTeller teller) => new(
        $"Probes on {teller.Subject} no longer agree",
        $"{teller.Alert.Evidence.Probe?.Text ?? "One"} has moved by {teller.Kelvins(FigureName.ShiftKelvins)} since about "
            + $"{teller.Since()}, and the other has not.",
        "",
        "It is the probe rather than the spot: has it slipped out, got wet, or is its battery low? Put the two side by side for a "
            + "night and compare.");
}
