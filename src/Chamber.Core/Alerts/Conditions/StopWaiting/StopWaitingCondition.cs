using Chamber.Core.Alerts.Fold;
using Chamber.Core.Diagnosis;

namespace Chamber.Core.Alerts.Conditions.StopWaiting;

/// <summary>So late that one more seedling is unlikely.</summary>
internal sealed class StopWaitingCondition : Condition
{
    public override AlertKind Kind => AlertKind.StopWaiting;

    public override bool IsChore => true;

    public override bool TouchesSeed => true;

    public override ConditionDocs Docs { get; } = new(
        "by a forecast each hour: the chance of one more is under 5 %, with the reason that the diagnosis knows.",
        "when one more is up.")
    {
        Source = "The chance is the forecast's.",
    };

    public override ConditionWatch At(LocationState location) => new StopWaitingWatch(this, location);

    public override AlertText Words(AlertTeller teller)
    {
        var known = teller.GivenUp();
        var why = known?.Cause.Kind ?? teller.Alert.Evidence.Why;
        return new(
            $"{teller.Subject}: no more are likely to come",
            $"{teller.Number(FigureName.Up)} up; since {teller.Since()} the chance of even one more is under "
                + $"{teller.Share(FigureName.Chance)}.",
            known?.Sentence ?? (why is { } kind ? DiagnosisWords.Why(kind) : ""),
            DiagnosisWords.WhenDue(why ?? CauseKind.Late));
    }
}
