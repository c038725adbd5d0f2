using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.Hazard;

/// <summary>Media hot enough to harm seed, or anything hot enough to be a danger: reported at once, day or night.</summary>
internal sealed class HazardCondition : Condition
{
    public override AlertKind Kind => AlertKind.Hazard;

    public override bool IsHazard => true;

    public override IReadOnlyList<Limit> Limits => [HazardLimits.Harm, HazardLimits.Danger, HazardLimits.Margin, HazardLimits.Clear];

    public override ConditionDocs Docs { get; } = new(
        "media over 40 °C (also the outside of a container, while a batch stands there), anything over 50 °C: on the first reading, "
            + "never held back.",
        "2 K below for 15 min; at once when it was a lone reading.");

    public override ConditionWatch At(LocationState location) => new HazardWatch(this, location);

    public override IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert, LocationState location) =>
        [.. location.Batches
        .Select(batch => batch.IsSeedling ? batch.HarmOfSeedlings
            : batch.Harm(0, batch.ShareLostAt(alert[FigureName.WorstCelsius] ?? batch.Terms.HotLimit.Celsius)))];

    public override double? UrgentCelsius(WatchLimits limits) => limits.Of(HazardLimits.Harm);

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with
    {
        First = alert.Severity != Severity.Danger ? [] : spot?.Kind == SpotKind.BoilerCupboard ? [CautionBook.Fire, CautionBook.Gas]
            : [CautionBook.Fire],
        Beside = TooHot.TooHotCondition.Scalds(spot),
    };

    public override AlertText Words(AlertTeller teller)
    {
        var isDanger = teller.Alert.Severity == Severity.Danger;
        return new(
            isDanger ? $"Danger: {teller.Worst()} on {teller.Subject}" : $"Heat that harms seed on {teller.Subject}",
            $"{teller.Worst()} was measured there, over {teller.Limit()}, first at {teller.Since()}.",
            teller.Harm(),
            isDanger ? "Go and look now. Unplug what heats it, if you can do so safely."
                : "Take it off the heat now, and look for what is heating it.");
    }
}
