using Chamber.Core.Alerts.Fold;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.NothingHeard;

/// <summary>Nothing at all is heard: the broker, the network or the power, not the probes one by one.</summary>
internal sealed class NothingHeardCondition : Condition
{
    public override AlertKind Kind => AlertKind.NothingHeard;

    public override ConditionDocs Docs { get; } = new(
        "two or more probes fall silent within 30 min of each other and no other is heard, or the broker is lost for 5 min.",
        "when one is heard.")
    {
        Source = "Times are common practice, no source.",
    };

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { InPlaceOfSpot = CautionBook.PowerCut };

    public override AlertText Words(AlertTeller teller) => new(
        "No probe is heard",
        $"Nothing has come from any of {teller.Number(FigureName.Count)} probes since {teller.Since()}.",
        "Nothing is watched meanwhile.",
        "One cause is likelier than many: see whether the broker runs, the network is up, and the power is on.");
}
