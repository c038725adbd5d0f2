using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooCold;

/// <summary>Too cold on one location, for each batch that is there.</summary>
internal sealed class TooColdWatch(Condition condition, LocationState location)
    : SpotLimitWatch<TooColdLimits>(condition, location, limits => new(limits))
{
    protected override QuietBand BandOf(BatchState batch) => QuietBand.All with
    {
        Low = Math.Max(batch.Terms.CoolLimit.Celsius, batch.Terms.OwnCold ?? double.NegativeInfinity),
    };

    protected override Transition Pass(ref HeldCondition state, BatchState batch, StationState station, Moment to) =>
        TooColdRule.Pass(ref state, to, HoldOf(batch), Limits);

    protected override Transition Step(ref HeldCondition state, BatchState batch, StationState station, in TimedTemperature now)
    {
        var input = new TooColdInput(now.At, now.Temperature.Celsius, batch.Terms.CoolLimit.Celsius, batch.IsUp, batch.Terms.OwnCold);
        return TooColdRule.Step(ref state, ref batch.Losses, input, Limits);
    }

    protected override void CountLosses(BatchState batch, in SpotLeg leg)
    {
        // Seed that needs a moist chill loses nothing by it.
        if (batch.Terms.RestsTo is { } rests && leg.MeanCelsius <= rests.Celsius)
        {
            return;
        }

        if (!batch.IsSeedling && leg.MeanCelsius < batch.Terms.CoolLimit.Celsius)
        {
            batch.Losses.AddCold(leg.From.At, leg.To.At, leg.Hours * batch.LostShare(leg.From.Temperature, leg.To.Temperature));
        }
    }

    protected override void Note(OpenAlert alert, BatchState batch, in TimedTemperature now)
    {
        alert[FigureName.HoursLost] = batch.Losses.ToColdWithinDay(now.At);
        alert.NoteCold(now);
    }

    protected override void Open(BatchState batch, StationState station, in HeldCondition held, in TimedTemperature reading)
    {
        var at = held.ChangedAt;
        var alert = Raise(Location.Subject, Severity.Warning, batch.Terms.OwnCold is null ? batch.Losses.ColdSince : held.Since, at,
            batch.Name);
        var limit = batch.Terms.OwnCold ?? batch.Terms.CoolLimit.Celsius;
        alert.Describe(station.Id, reading, Math.Max(limit, alert[FigureName.LimitCelsius] ?? limit));
        alert[FigureName.HoursLost] = batch.Losses.ToColdWithinDay(at);
        if (CoolingAir(station, reading.Temperature, at) is { } air)
        {
            alert[FigureName.AirCelsius] = air.Celsius;
        }
    }

    protected override void EndSpell(BatchState batch) => batch.Losses.EndCold();

    // By a limit of one's own no progress is counted: it has to stay below it instead, for as long as it must stay above it again.
    private TimeSpan HoldOf(BatchState batch) => batch.Terms.OwnCold is null ? TimeSpan.Zero : Limits.ClearHold;

    // Wet media that cools itself by evaporating, in air that is warm enough.
    private Temperature? CoolingAir(StationState station, Temperature temperature, Moment at) =>
        station.Measurand == Measurand.Media
        && Location.Stations.FirstOrDefault(other => other.Measurand == Measurand.Air && other.IsFreshAt(at)) is { Last: { } air }
        && EvaporativeCooling.Explains(air.Temperature.Celsius, temperature.Celsius)
            ? air.Temperature
            : null;
}
