using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.SurveyStale;

/// <summary>A spot no longer behaves as it did when it was surveyed.</summary>
internal sealed class SurveyStaleCondition : Condition
{
    public override AlertKind Kind => AlertKind.SurveyStale;

    public override IReadOnlyList<Limit> Limits => [SurveyStaleLimits.By, SurveyStaleLimits.Hold];

    public override bool IsChore => true;

    public override ConditionDocs Docs { get; } = new(
        "the mean of 24 h over 2 K from the survey's, hour for hour, for 24 h.",
        "within 1 K for 24 h.")
    {
        More = "A survey here is that of the last whole week (Monday to Sunday, 72 h measured at least). While a drift explains it, the "
            + "drift is reported instead.",
    };

    public override ConditionWatch At(LocationState location) => new SurveyStaleWatch(this, location);

    public override AlertText Words(AlertTeller teller) => new(
        $"The survey of {teller.Subject} no longer holds",
        $"About {teller.Since()} the mean of a day came to lie well off the {teller.Celsius(FigureName.UsualCelsius)} of the survey; that "
            + $"of the last day was {teller.Latest()}.",
        "How well it suits a crop is judged by a course that it no longer has.",
        "Survey it again for seven days, three at the least.");
}
