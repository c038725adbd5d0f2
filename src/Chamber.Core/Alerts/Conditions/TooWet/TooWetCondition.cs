using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.TooWet;

/// <summary>Media has stayed near its saturated reading too long after wetting.</summary>
internal sealed class TooWetCondition : Condition
{
    public override AlertKind Kind => AlertKind.TooWet;

    public override IReadOnlyList<Limit> Limits =>
        [TooWetLimits.Above, TooWetLimits.MixHold, TooWetLimits.TowelHold, MoistureLimits.Margin];

    public override ConditionDocs Docs { get; } = new(
        "media over 90 % of its own saturated reading, 24 h after wetting in mix, 12 h in a towel.",
        "when it is 5 % less for 1 h.")
    {
        Source = "Seed wants no film of water round it: 7 CFR 201.55a.",
        More = "A media probe counts only between its own dry and saturated readings. Air saturated under a cover proves that the cover is "
            + "shut, and nothing about how wet the media is.",
    };

    public override ConditionWatch At(LocationState location) => new TooWetWatch(this, location);

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { Beside = [CautionBook.WaterAndMains] };

    public override AlertText Words(AlertTeller teller) => new(
        $"Too wet on {teller.Subject}",
        $"It has been at {teller.Number(FigureName.Percent)} % of its saturated reading, over {teller.Number(FigureName.LimitPercent)} %, "
            + $"since {teller.Since()}.",
        "Seed that lies in water cannot breathe and rots.",
        "Pour off what stands, wring the towel until it no longer drips, or let the mix drain: pressed between two fingers no film of "
            + "water should form.");
}
