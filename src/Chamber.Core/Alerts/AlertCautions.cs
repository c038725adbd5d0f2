using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts;

/// <summary>The cautions of an alert: what to mind before a hand goes where it sends one. Their words stand in the catalogue.</summary>
internal static class AlertCautions
{
    /// <summary>None for an alert that sends no hand anywhere: a clock, or a home that is warmer as a whole.</summary>
    public static IReadOnlyList<ShownCaution> Of(Alert alert, HomeFacts facts)
    {
        if (alert.Kind == AlertKind.ClockWrong || (alert.Kind == AlertKind.Drifting && alert.Subject == AlertSubject.Home))
        {
            return [];
        }

        var batch = facts.Batches.FirstOrDefault(known => alert.Subject == AlertSubject.Of(known.Batch.Id));
        var spot = SpotOf(alert, facts, batch?.Batch);
        IEnumerable<ShownCaution> shown =
        [
            .. Dangers(alert, spot).Select(ShownCaution.Whole),
            .. Hands(alert, spot).Select(caution => new ShownCaution(caution, !IsChore(alert.Kind))),
            .. Seed(alert, facts, batch, spot),
        ];
        return [.. shown.DistinctBy(one => one.Caution.Name)];
    }

    // A look or a survey comes again and again: its caution is a line, so that it keeps being read.
    private static bool IsChore(AlertKind kind) => kind is AlertKind.LookNow or AlertKind.StopWaiting or AlertKind.SurveyStale;

    private static IEnumerable<Caution> Dangers(Alert alert, Spot? spot)
    {
        if (alert is { Kind: AlertKind.Hazard, Severity: Severity.Danger })
        {
            yield return CautionBook.Fire;
            if (spot?.Kind == SpotKind.BoilerCupboard)
            {
                yield return CautionBook.Gas;
            }
        }
    }

    private static IEnumerable<Caution> Hands(Alert alert, Spot? spot)
    {
        if (alert.Kind == AlertKind.NothingHeard)
        {
            yield return CautionBook.PowerCut;
            yield break;
        }

        yield return spot is null ? CautionBook.WaterAndMains : CautionRules.Of(spot.Kind)[0];
        switch (alert.Kind)
        {
            case AlertKind.TooHot or AlertKind.Hazard when spot is not null && CautionRules.Of(spot.Kind).Contains(CautionBook.Scalds):
                yield return CautionBook.Scalds;
                break;
            case AlertKind.TooWet:
                yield return CautionBook.WaterAndMains;
                break;
            case AlertKind.SilentProbe or AlertKind.FaultyProbe or AlertKind.WeakBattery:
                yield return CautionBook.Batteries;
                break;
        }
    }

    private static IEnumerable<ShownCaution> Seed(Alert alert, HomeFacts facts, WatchedBatch? batch, Spot? spot)
    {
        var isTreated = batch?.IsTreated ?? (alert.Subject.Kind == SubjectKind.Spot && facts.Batches.Any(known => known.IsTreated && StandsOn(known.Batch, spot)));
        if (isTreated)
        {
            // Fingers go to the seed itself: it is dug up, or planted from a towel.
            yield return new(CautionBook.TreatedSeed, alert.Kind is AlertKind.StopWaiting or AlertKind.CoverShut);
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
