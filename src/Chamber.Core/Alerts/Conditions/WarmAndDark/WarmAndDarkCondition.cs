using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.WarmAndDark;

/// <summary>Seedlings are up and still stand in the warm and dark.</summary>
internal sealed class WarmAndDarkCondition : Condition
{
    public override AlertKind Kind => AlertKind.WarmAndDark;

    public override IReadOnlyList<Limit> Limits => [WarmAndDarkLimits.Above, WarmAndDarkLimits.Hours];

    public override ConditionDocs Docs { get; } = new(
        "12 h at 18 °C or more on a spot that is not bright, since the first were up; urgent after 36 h. Hours on all spots "
            + "count together.",
        "when it stands somewhere bright.")
    {
        Source = "Long and pale within 1 to 2 days is common practice, no source.",
    };

    public override ConditionWatch At(LocationState location) => new WarmAndDarkWatch(this, location);

    public override AlertText Words(AlertTeller teller) => new(
        $"{teller.Subject} is up, in the warm and dark",
        $"{teller.Number(FigureName.Up)} up at the last look; {teller.Hours(FigureName.Hours)} of warmth without light since "
            + $"{teller.Since()}.",
        "Seedlings grow long and pale within a day or two, and most never recover.",
        $"Move them to the brightest place at {teller.Band(18, 21)} today.");
}
