using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.ClockWrong;

/// <summary>A probe's clock cannot be trusted.</summary>
internal sealed class ClockWrongCondition : Condition
{
    public override AlertKind Kind => AlertKind.ClockWrong;

    public override IReadOnlyList<RefusalRule> Refusals { get; } =
        [new(ProbeFault.Clock, [RefusalReason.FutureTime, RefusalReason.BadTime], Duration.FromHours(24), Duration.FromHours(24),
            Severity.Note)];

    public override ConditionDocs Docs { get; } =
        new("3 future or unreadable times within 24 h.", "24 h without.") { Source = "Times are common practice, no source." };

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.None;

    public override AlertText Words(AlertTeller teller) => new(
        $"The clock of {teller.Subject} is wrong",
        $"Its messages carry times that cannot be, first at {teller.Since()}. The time of arrival is used instead.",
        "",
        "Set its clock and zone, or have it send no time at all.");
}
