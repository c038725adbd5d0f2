using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.TooHot;

/// <summary>A spot lies above the hot limit of what is there.</summary>
internal sealed class TooHotCondition : Condition
{
    public override AlertKind Kind => AlertKind.TooHot;

    public override IReadOnlyList<Limit> Limits =>
        [TooHotLimits.Hold, TooHotLimits.AirHold, TooHotLimits.Margin, TooHotLimits.Clear, TooHotLimits.ForSeedlings];

    public override ConditionDocs Docs { get; } = new(
        "until the first are up (in a towel: until it is planted up) above the crop's hot limit, then more than 10 K above the top of its "
            + "growing day; with a limit of your own (chamber limits) above that, seed or seedling; for 30 min by a probe in the media or "
            + "outside, for 60 min by one in the air.",
        "when it is 1 K below for 30 min.")
    {
        Source = "The hot limit is the catalog's: fewer than 80 % of the best share come up, after the 1954 table. Growing days are after "
            + "Univ. of Delaware Extension and Iowa State Univ. Extension 2017 and 2023 (crops.csv says which), 18 to 21 °C where "
            + "a crop has none.",
    };

    public override ConditionWatch At(LocationState location) => new TooHotWatch(this, location);

    /// <summary>°C. That of somebody's own word; otherwise until the first are up that of coming up, then that of seedlings. A root in a
    /// towel still has to come up.</summary>
    public static double LimitOf(BatchState batch, double seedlingKelvins) => batch.Terms.OwnHot ?? CropLimitOf(batch, seedlingKelvins);

    private static double CropLimitOf(BatchState batch, double seedlingKelvins) =>
        batch.IsSeedling ? batch.GrowingDayMax.Celsius + seedlingKelvins : batch.Terms.HotLimit.Celsius;

    public override IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert, LocationState location) => [.. HoldersOf(alert, location)
        .Select(batch => batch.IsSeedling ? batch.HarmOfSeedlings : batch.Harm(batch.Losses.ToHeat, batch.ShareLostToHeat))];

    public override HandCautions Cautions(Alert alert, Spot? spot) => HandCautions.OfSpot with { Beside = Scalds(spot) };

    /// <summary>Of a spot that can scald, that it can.</summary>
    public static IReadOnlyList<Caution> Scalds(Spot? spot) =>
        spot is not null && CautionRules.Of(spot.Kind).Contains(CautionBook.Scalds) ? [CautionBook.Scalds] : [];

    public override AlertText Words(AlertTeller teller) => new(
        teller.AreUp ? $"Too hot for seedlings on {teller.Subject}" : $"Too hot on {teller.Subject}",
        $"{teller.Latest()} there at {teller.LastTime()}, above {teller.HotLimit()} since {teller.Since()}, at worst {teller.Worst()}.",
        teller.Harm(),
        teller.AreUp ? "Take the lid off, and shade them or move them somewhere cooler and bright."
            : "Raise it on slats, open the lid a crack, or move it somewhere cooler.");
}
