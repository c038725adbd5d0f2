using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Fold;

/// <summary>The cautions of an alert: what to mind before a hand goes where it sends one. Their words stand in the catalogue.</summary>
internal static class AlertCautions
{
    /// <summary>None for an alert that sends no hand anywhere.</summary>
    public static IReadOnlyList<ShownCaution> Of(Alert alert, Condition condition, HomeFacts facts)
    {
        var batch = facts.Batches.FirstOrDefault(known => alert.Subject == AlertSubject.Of(known.Batch.Id));
        var spot = SpotOf(alert, facts, batch?.Batch);
        if (condition.Cautions(alert, spot) is not { SendsHand: true } hand)
        {
            return [];
        }

        var own = hand.InPlaceOfSpot ?? (spot is null ? CautionBook.WaterAndMains : CautionRules.Of(spot.Kind)[0]);
        IEnumerable<ShownCaution> shown =
        [
            .. hand.First.Select(ShownCaution.Whole),
            .. hand.Beside.Prepend(own).Select(caution => new ShownCaution(caution, !condition.IsChore)),
            .. Seed(alert, condition, facts, batch, spot),
        ];
        return [.. shown.DistinctBy(one => one.Caution.Name)];
    }

    private static IEnumerable<ShownCaution> Seed(Alert alert, Condition condition, HomeFacts facts, WatchedBatch? batch, Spot? spot)
    {
        var isTreated = batch?.IsTreated
            ?? (alert.Subject.Kind == SubjectKind.Spot && facts.Batches.Any(known => known.IsTreated && StandsOn(known.Batch, spot)));
        if (isTreated)
        {
            yield return new(CautionBook.TreatedSeed, condition.TouchesSeed);
        }

        foreach (var poison in batch is null ? [] : PoisonCaution.Of(batch.Crop))
        {
            yield return ShownCaution.Line(poison);
        }
    }

    private static Spot? SpotOf(Alert alert, HomeFacts facts, Batch? batch)
    {
        var name = alert.Subject.Kind switch
        {
            SubjectKind.Spot => alert.Subject.Name,
            SubjectKind.Batch => batch?.Stays is [.., var stay] ? stay.Spot.Text : null,
            SubjectKind.Probe => facts.Stations.LastOrDefault(station => station.Probe.Text == alert.Subject.Name)?.Spot.Text,
            _ => null,
        };
        return facts.Spots.FirstOrDefault(spot => spot.Id.Text == name);
    }

    private static bool StandsOn(Batch batch, Spot? spot) =>
        spot is not null && batch.EndedAt is null && batch.Stays is [.., { When.HasEnd: false } stay] && stay.Spot == spot.Id;
}
