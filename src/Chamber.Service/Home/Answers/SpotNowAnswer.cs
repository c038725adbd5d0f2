using Chamber.Core.Cautions;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
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
    /// <summary>Limits of alerts that somebody has chosen for it, °C; null as the crops have them.</summary>
    public Temperature? TooHot { get; private init; }

    /// <inheritdoc cref="TooHot"/>
    public Temperature? TooCold { get; private init; }

    /// <summary>Notes about it, in order of time.</summary>
    public IReadOnlyList<NoteAnswer> Notes { get; private init; } = [];

    internal static SpotNowAnswer Of(HomeReader home, SurveyedSpot surveyed)
    {
        var (spot, survey) = surveyed;
        var usual = survey.Usual.Hours.Where(hour => hour is not null).Select(hour => hour!.Value.Mean).ToList();
        var own = LimitsAnswer.Of(home, FactSubject.Of(spot.Id));
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
            CautionText.Lines([CautionRules.Repeated(spot.Kind)]))
        {
            TooHot = own.TooHot,
            TooCold = own.TooCold,
            Notes = NoteAnswer.Of(home, FactSubject.Of(spot.Id)),
        };
    }
}
