using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Crops;

namespace Chamber.Core.Alerts.Conditions.CoverShut;

/// <summary>The cover is still shut long after the first were up, or roots grow into the towel.</summary>
internal sealed class CoverShutCondition : Condition
{
    public override AlertKind Kind => AlertKind.CoverShut;

    public override IReadOnlyList<Limit> Limits => [CoverShutLimits.MixHold, CoverShutLimits.TowelHold];

    public override bool TouchesSeed => true;

    public override ConditionDocs Docs { get; } = new(
        "24 h after the first are seen up in mix, 12 h for roots in a towel; a warning after twice that. Not when the air is under 80 %: "
            + "then the cover is off.",
        "when the cover is off, or the towel planted up.")
    {
        More = "A cover comes off by `chamber stage T1 uncovered`, or whatever else is done to single plants; if you sow without "
            + "a cover, record that at once in the same way. A batch whose seedlings went into the light stays covered until then.",
    };

    public override ConditionWatch At(LocationState location) => new CoverShutWatch(this, location);

    public override AlertText Words(AlertTeller teller) => teller.MethodIs(SowingMethod.DampTowel)
        ? new(
            $"{teller.Subject}: roots are out in the towel",
            $"They were seen at {teller.Since()}; {teller.Hours(FigureName.Hours)} later it was not recorded that they "
                + $"were planted up.",
            "Roots grow into the towel and break when it is opened late.",
            "Plant them up now: root down, 5 to 10 mm deep, kept warm until the shoot shows.")
        : new(
            $"{teller.Subject}: the cover is still on",
            $"The first were up at {teller.Since()}; {teller.Hours(FigureName.Hours)} later it was not recorded that it is off.",
            "In still, wet air seedlings fall over at the foot.",
            "Take the cover off, and record that.");
}
