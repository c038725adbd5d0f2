using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.DryingOut;

/// <summary>Media, or the air under a cover, is drying out.</summary>
internal sealed class DryingOutCondition : Condition
{
    public override AlertKind Kind => AlertKind.DryingOut;

    public override IReadOnlyList<Limit> Limits =>
    [
        DryingOutLimits.Mix, DryingOutLimits.Towel, MoistureLimits.Hold, MoistureLimits.Margin,
        DryingOutLimits.LidTightAbove, DryingOutLimits.LidTight, DryingOutLimits.LidDryBelow, DryingOutLimits.LidDry,
    ];

    public override ConditionDocs Docs { get; } = new(
        "mix under 30 %, a towel under 50 % of its own saturated reading, for 1 h; or air under a cover that was over 95 % for 6 h falls "
            + "under 85 % for 3 h.",
        "when it is 5 % more.");

    public override ConditionWatch At(LocationState location) => new DryingOutWatch(this, location);

    public override AlertText Words(AlertTeller teller) => new(
        $"Drying out on {teller.Subject}",
        teller.Alert.Severity == Severity.Note
            ? $"The air under the cover fell to {teller.Number(FigureName.Percent)} % from near saturation, since "
                + $"{teller.Since()}{teller.DewPointGap()}: the cover leaks or the media dries."
            : $"It is at {teller.Number(FigureName.Percent)} % of its saturated reading, under {teller.Number(FigureName.LimitPercent)} %, "
                + $"since {teller.Since()}.",
        "Seed that has drunk and dries again may die.",
        "Wet it now with water at room temperature, and shut the cover.");
}
