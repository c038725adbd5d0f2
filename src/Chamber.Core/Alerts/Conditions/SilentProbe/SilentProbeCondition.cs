using Chamber.Core.Alerts.Fold;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.SilentProbe;

/// <summary>A probe has said nothing for longer than its bound.</summary>
internal sealed class SilentProbeCondition : Condition
{
    public override AlertKind Kind => AlertKind.SilentProbe;

    public override ConditionDocs Docs { get; } = new(
        "nothing was heard for longer than the probe's own bound; not from one that is read by hand, and outages are excused.",
        "when it speaks.")
    {
        Source = "The bound is the probe's setting.",
    };

    public override ConditionWatch At(LocationState location) => new SilentProbeWatch(this, location);

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { Beside = [CautionBook.Batteries] };

    public override AlertText Words(AlertTeller teller)
    {
        var last = teller.Find(FigureName.LatestCelsius) is null ? "" : $" ({teller.Latest()})";
        return new(
            $"Nothing heard from {teller.Subject}",
            $"Its last reading is of {teller.Since()}{last}; it should speak at least every {teller.Hours(FigureName.Hours)}.",
            "What happens there meanwhile is not known, and is not counted.",
            "Check its battery and whether it is in reach; until it speaks, read a thermometer.");
    }
}
