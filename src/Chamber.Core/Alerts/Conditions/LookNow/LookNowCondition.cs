using Chamber.Core.Alerts.Fold;

namespace Chamber.Core.Alerts.Conditions.LookNow;

/// <summary>The first may be up: look.</summary>
internal sealed class LookNowCondition : Condition
{
    public override AlertKind Kind => AlertKind.LookNow;

    public override bool IsReminder => true;

    public override bool IsChore => true;

    public override ConditionDocs Docs { get; } = new(
        "by a forecast each hour: the first may be up (30 to 50 % by how fast the crop is), and nobody looked lately.",
        "when somebody looks.")
    {
        Source = "The chance is the forecast's.",
    };

    public override ConditionWatch At(LocationState location) => new LookNowWatch(this, location);

    public override AlertText Words(AlertTeller teller) => new(
        $"Look at {teller.Subject}",
        $"The chance that the first is up is {teller.Share(FigureName.Chance)}.",
        "",
        "Look, count, and record it, also when there is nothing yet: without looks nothing can be learnt.");
}
