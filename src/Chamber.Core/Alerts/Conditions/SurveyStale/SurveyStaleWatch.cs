using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Conditions.SurveyStale;

/// <summary>The survey of one spot, judged at the end of each hour of the probe that speaks for it.</summary>
internal sealed class SurveyStaleWatch(Condition condition, LocationState location)
    : LimitedWatch<SurveyStaleLimits>(condition, location, limits => new(limits))
{
    private HeldCondition state;
    private Surveyed? survey;

    public override void Surveyed(Surveyed survey)
    {
        this.survey = survey;
        Restart(ref state, survey.At);
    }

    public override void HourEnded(in StationHour hour)
    {
        var station = hour.Station;
        if (!hour.IsReference || survey is not { } surveyed || !station.LastDay.IsFull
            || station.LastDay.MeanOff(surveyed.HoursCelsius) is not { } shift)
        {
            return;
        }

        Follow(SurveyRule.Step(ref state, hour.End, shift, Limits.Kelvins, Limits.HoldTime), state, Location.Subject, station.Name,
            Severity.Note);
        if (Find(Location.Subject) is { } alert)
        {
            alert.Probe ??= station.Id;
            alert.LastAt = hour.End;
            alert[FigureName.LatestCelsius] = station.LastDay.Mean.Celsius;
            alert[FigureName.UsualCelsius] = surveyed.Mean.Celsius;
            alert[FigureName.ShiftKelvins] = shift.Kelvins;
        }
    }
}
