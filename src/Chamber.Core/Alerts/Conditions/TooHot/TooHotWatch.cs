using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooHot;

/// <summary>Too hot on one location, for each batch that is there.</summary>
internal sealed class TooHotWatch(Condition condition, LocationState location)
    : SpotLimitWatch<TooHotLimits>(condition, location, limits => new(limits))
{
    protected override QuietBand BandOf(BatchState batch) => QuietBand.All with
    {
        High = batch.IsSeedling ? LimitOf(batch) : Math.Min(LimitOf(batch), batch.Terms.HotLimit.Celsius),
    };

    protected override Transition Pass(ref HeldCondition state, BatchState batch, StationState station, Moment to) =>
        TooHotRule.Pass(ref state, to, Limits.HoldBy(station.Measurand), Limits);

    protected override Transition Step(ref HeldCondition state, BatchState batch, StationState station, in TimedTemperature now)
    {
        var hold = Limits.HoldBy(station.Measurand);
        return TooHotRule.Step(ref state, new(now.At, now.Temperature.Celsius, LimitOf(batch), hold), Limits);
    }

    protected override void CountLosses(BatchState batch, in SpotLeg leg)
    {
        if (!batch.IsSeedling && leg.MeanCelsius > batch.Terms.HotLimit.Celsius)
        {
            batch.Losses.AddHeat(leg.Hours, leg.MeanCelsius, leg.Hours * batch.LostShare(leg.From.Temperature, leg.To.Temperature));
        }
    }

    protected override void Note(OpenAlert alert, BatchState batch, in TimedTemperature now)
    {
        alert[FigureName.LimitCelsius] = LowestLimit();
        alert.NoteHot(now);
    }

    protected override void Open(BatchState batch, StationState station, in HeldCondition held, in TimedTemperature reading)
    {
        var alert = Raise(Location.Subject, Severity.Warning, held.Since, held.ChangedAt, batch.Name);
        var limit = LimitOf(batch);
        alert.Describe(station.Id, reading, Math.Min(limit, alert[FigureName.LimitCelsius] ?? limit));
    }

    protected override void EndSpell(BatchState batch) => batch.Losses.EndHeat();

    private double LimitOf(BatchState batch) => TooHotCondition.LimitOf(batch, Limits.SeedlingKelvins);

    private double LowestLimit()
    {
        var lowest = double.PositiveInfinity;
        foreach (var batch in Location.Batches)
        {
            lowest = Of(batch).IsOpen ? Math.Min(lowest, LimitOf(batch)) : lowest;
        }

        return lowest;
    }
}
