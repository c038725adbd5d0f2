using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Spots;

namespace Chamber.Service.Home.Answers;

/// <summary>A spot as it is now, for programs.</summary>
public sealed record SpotNowAnswer(
    SpotId Spot,
    SpotKind Kind,
    LightLevel Light,
    int Room,
    Temperature? Temperature,
    Temperature? Coolest,
    Temperature? Warmest,
    double MeasuredHours,
    SurveyStage Survey,
    IReadOnlyList<ProbeId> Probes,
    IReadOnlyList<Core.Batches.BatchId> Batches,
    string Caution,
    string CautionLine)
{
    internal static SpotNowAnswer Of(HomeReader home, SurveyedSpot surveyed)
    {
        var (spot, survey) = surveyed;
        var usual = survey.Usual.Hours.Where(hour => hour is not null).Select(hour => hour!.Value.Mean).ToList();
        return new(
            spot.Id,
            spot.Kind,
            spot.Light,
            spot.Room,
            home.LastOn(spot.Id),
            usual.Count == 0 ? null : usual.Min(),
            usual.Count == 0 ? null : usual.Max(),
            survey.MeasuredHours,
            survey.Stage,
            home.ProbesOn(spot.Id),
            home.BatchesOn(spot.Id),
            CautionText.Of(CautionRules.SettingUp(spot.Kind, spot.Light)),
            CautionText.Lines([CautionRules.Repeated(spot.Kind)]));
    }
}
