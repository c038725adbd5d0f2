using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.WeakBattery;

/// <summary>A battery is nearly empty.</summary>
internal sealed class WeakBatteryCondition : Condition
{
    /// <summary>At or below this share the battery is weak; above twice that it is not.</summary>
    public static readonly NumberLimit Charge = new("weak battery at", 10, "%", "at or below this charge; over at twice that");

    public override AlertKind Kind => AlertKind.WeakBattery;

    public override IReadOnlyList<Limit> Limits => [Charge];

    public override ConditionDocs Docs { get; } = new("10 % or less for 1 h.", "at 20 %.");

    public override ConditionWatch At(LocationState location) => new WeakBatteryWatch(this, location);

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { Beside = [CautionBook.Batteries] };

    public override AlertText Words(AlertTeller teller) => new(
        $"Battery of {teller.Subject} at {teller.Number(FigureName.Percent)} %",
        $"Low since {teller.Since()}.",
        "Readings get worse before they stop.",
        "Change it soon, and compare the probe with another afterwards.");
}
