using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooHot;

/// <summary>Too hot on one place, for each batch that stands there. The alert is one of the spot, held by its batches.</summary>
internal sealed class TooHotWatch(Condition condition, PlaceState place) : BatchWatch<HeldCondition>(condition, place),
    IFollowSpots, IPassTime
{
    private TooHotLimits limits = new(place.Settings.Limits);

    public override void TakeLimits() => limits = new(Limits);

    public void Followed(in SpotLeg leg)
    {
        var hold = limits.HoldBy(leg.Station.Measurand);
        for (var i = 0; i < Place.Batches.Count; i++)
        {
            var batch = Place.Batches[i];
            ref var state = ref Of(batch);
            if (leg.IsConnected)
            {
                Change(batch, leg.Station, TooHotRule.Pass(ref state, leg.To.At, hold, limits), leg.To);
                CountLosses(batch, leg);
            }
            else if (leg.KnownBefore is { } known)
            {
                Change(batch, leg.Before!, TooHotRule.Pass(ref state, known, limits.HoldBy(leg.Before!.Measurand), limits),
                    leg.Before.Last!.Value);
                state.Lose();
            }

            var input = new TooHotInput(leg.To.At, leg.To.Temperature.Celsius, HotLimit(batch), hold);
            Change(batch, leg.Station, TooHotRule.Step(ref state, input, limits), leg.To);
            if (state.IsOpen && Find(Place.Subject) is { } alert)
            {
                alert[FigureName.LimitCelsius] = LowestLimit();
                alert.Note(leg.To.At, leg.To.Temperature,
                    Temperature.FromCelsius(
                    Math.Max(alert[FigureName.WorstCelsius] ?? leg.To.Temperature.Celsius, leg.To.Temperature.Celsius)));
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
            var known = Moment.Earlier(to, last.At + reference.MaxGap);
            Change(batch, reference, TooHotRule.Pass(ref Of(batch), known, limits.HoldBy(reference.Measurand), limits), last);
        }
    }

    private static void CountLosses(BatchState batch, in SpotLeg leg)
    {
        if (!batch.IsSeedling && leg.MeanCelsius > batch.Terms.HotLimit.Celsius)
        {
            batch.Losses.AddHeat(leg.Hours, leg.MeanCelsius, leg.Hours * batch.LostShare(leg.From.Temperature, leg.To.Temperature));
        }
    }

    private double HotLimit(BatchState batch) => TooHotCondition.LimitOf(batch, limits.SeedlingKelvins);

    private double LowestLimit()
    {
        var lowest = double.PositiveInfinity;
        foreach (var batch in Place.Batches)
        {
            lowest = Of(batch).IsOpen ? Math.Min(lowest, HotLimit(batch)) : lowest;
        }

        return lowest;
    }

    private void Change(BatchState batch, StationState station, Transition transition, in TimedTemperature reading)
    {
        if (transition == Transition.None)
        {
            return;
        }

        var state = Of(batch);
        Place.Mark = Moment.Later(Place.Mark, state.ChangedAt);
        if (transition == Transition.Closed)
        {
            Release(Place.Subject, batch.Name, state.ChangedAt);
            batch.Losses.EndHeat();
            return;
        }

        var alert = Raise(Place.Subject, Severity.Warning, state.Since, state.ChangedAt, batch.Name);
        var limit = HotLimit(batch);
        alert.Describe(station.Id, reading, Math.Min(limit, alert[FigureName.LimitCelsius] ?? limit));
    }
}
