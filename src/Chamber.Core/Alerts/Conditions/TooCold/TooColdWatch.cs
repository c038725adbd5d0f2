using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooCold;

/// <summary>Too cold on one place, for each batch that stands there. The alert is one of the spot, held by its batches.</summary>
internal sealed class TooColdWatch(Condition condition, PlaceState place) : BatchWatch<HeldCondition>(condition, place),
    IFollowSpots, IPassTime
{
    private TooColdLimits limits = new(place.Settings.Limits);

    public override void TakeLimits() => limits = new(Limits);

    public void Followed(in SpotLeg leg)
    {
        for (var i = 0; i < Place.Batches.Count; i++)
        {
            var batch = Place.Batches[i];
            ref var state = ref Of(batch);
            if (leg.IsConnected)
            {
                Change(batch, leg.Station, TooColdRule.Pass(ref state, leg.To.At, limits), leg.To);
                CountLosses(batch, leg);
            }
            else if (leg.KnownBefore is { } known)
            {
                Change(batch, leg.Before!, TooColdRule.Pass(ref state, known, limits), leg.Before!.Last!.Value);
                state.Lose();
            }

            var input = new TooColdInput(leg.To.At, leg.To.Temperature.Celsius, batch.Terms.CoolLimit.Celsius, batch.IsUp);
            Change(batch, leg.Station, TooColdRule.Step(ref state, ref batch.Losses, input, limits), leg.To);
            if (state.IsOpen && Find(Place.Subject) is { } alert)
            {
                alert[FigureName.HoursLost] = batch.Losses.ToColdWithinDay(leg.To.At);
                alert.Note(leg.To.At, leg.To.Temperature,
                    Temperature.FromCelsius(
                    Math.Min(alert[FigureName.WorstCelsius] ?? leg.To.Temperature.Celsius, leg.To.Temperature.Celsius)));
            }
        }
    }

    public void Advance(Moment to)
    {
        if (Place.Reference is not { Last: { } last } reference)
        {
            return;
        }

        foreach (var batch in Place.Batches)
        {
            Change(batch, reference, TooColdRule.Pass(ref Of(batch), Moment.Earlier(to, last.At + reference.MaxGap), limits), last);
        }
    }

    private static void CountLosses(BatchState batch, in SpotLeg leg)
    {
        if (!batch.IsSeedling && leg.MeanCelsius < batch.Terms.CoolLimit.Celsius)
        {
            batch.Losses.AddCold(leg.From.At, leg.To.At, leg.Hours * batch.LostShare(leg.From.Temperature, leg.To.Temperature));
        }
    }

    private void Change(BatchState batch, StationState station, Transition transition, in TimedTemperature reading)
    {
        if (transition == Transition.None)
        {
            return;
        }

        var at = Of(batch).ChangedAt;
        Place.Mark = Moment.Later(Place.Mark, at);
        if (transition == Transition.Closed)
        {
            Release(Place.Subject, batch.Name, at);
            batch.Losses.EndCold();
            return;
        }

        var alert = Raise(Place.Subject, Severity.Warning, batch.Losses.ColdSince, at, batch.Name);
        var limit = batch.Terms.CoolLimit.Celsius;
        alert.Describe(station.Id, reading, Math.Max(limit, alert[FigureName.LimitCelsius] ?? limit));
        alert[FigureName.HoursLost] = batch.Losses.ToColdWithinDay(at);
        if (CoolingAir(station, reading.Temperature, at) is { } air)
        {
            alert[FigureName.AirCelsius] = air.Celsius;
        }
    }

    // Wet media that cools itself by evaporating, in air that is warm enough.
    private Temperature? CoolingAir(StationState station, Temperature temperature, Moment at) =>
        station.Measurand == Measurand.Media
        && Place.Stations.FirstOrDefault(other => other.Measurand == Measurand.Air && other.IsFreshAt(at)) is { Last: { } air }
        && EvaporativeCooling.Explains(air.Temperature.Celsius, temperature.Celsius)
            ? air.Temperature
            : null;
}
