using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;

namespace Chamber.Core.Alerts.Conditions.Swinging;

/// <summary>The temperature goes up and down far enough to leave the crop's limits on both sides within a day.</summary>
internal sealed class SwingingCondition : Condition
{
    public override AlertKind Kind => AlertKind.Swinging;

    public override IReadOnlyList<Limit> Limits => [SwingingLimits.Cold, SwingingLimits.Hot];

    public override ConditionDocs Docs { get; } = new(
        "until the first is seen up: within 24 h at least 2 h below the cool and 1 h above the hot limit.",
        "when either falls under half.")
    {
        More = "Size alone is no fault: laboratories alternate 20 and 30 °C (7 CFR 201.58).",
    };

    public override ConditionWatch At(LocationState location) => new SwingingWatch(this, location);

    public override IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert, LocationState location) => [.. HoldersOf(alert, location)
        .Select(batch => batch.Harm(batch.Losses.ToCold + batch.Losses.ToHeat, batch.ShareLostToHeat))];

    public override AlertText Words(AlertTeller teller) => new(
        $"Large swings on {teller.Subject}",
        $"Within 24 h it went from {teller.Celsius(FigureName.LowestCelsius)} to {teller.Worst()}, beyond the limits of what stands "
            + $"there on both sides.",
        teller.Harm(),
        "A closed box, a deeper layer of mix or a lid evens it out; or move it to a steadier spot. A swing within the limits "
            + "would do no harm.");
}
