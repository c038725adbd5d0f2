using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.FaultyProbe;

/// <summary>The faults of one probe that show in its readings.</summary>
internal struct FaultyProbeState
{
    public LoneValues Lone;
    public FlatLine Flat;
    public HeldCondition Saturated;
}

/// <summary>Faults of probes on one location, which are not faults of the spot. The alert is one of the probe, held by each sort of
/// fault.</summary>
internal sealed class FaultyProbeWatch(Condition condition, LocationState location)
    : StationWatch<FaultyProbeState, FaultyProbeLimits>(condition, location, limits => new(limits))
{
    public override void Heard(StationState station, Moment at)
    {
        if (Of(station).Lone.Any)
        {
            End(station, ProbeFault.Spike, at);
            End(station, ProbeFault.ImpossibleRate, at);
        }
    }

    public override void BorneOut(StationState station, in TimedTemperature suspect)
    {
        if (station.Last is { } last && Of(station).Lone.AddJump(station.Measurand, last, suspect))
        {
            Tell(station, ProbeFault.ImpossibleRate, Severity.Warning, suspect.At, suspect.At);
        }
    }

    public override void Dropped(StationState station, in TimedTemperature suspect)
    {
        if (Of(station).Lone.AddSpike(suspect.At))
        {
            Tell(station, ProbeFault.Spike, Severity.Warning, suspect.At, suspect.At);
        }
    }

    public override void Accepted(StationState station, in TimedTemperature now)
    {
        ref var flat = ref Of(station).Flat;
        var transition = flat.Step(now, Limits.FlatHold);
        if (transition == Transition.Closed)
        {
            Release(station.Subject, HolderOf(station, ProbeFault.FlatLine), now.At);
        }
        else if (transition == Transition.Opened)
        {
            Tell(station, ProbeFault.FlatLine, Severity.Note, flat.Since, now.At)[FigureName.LatestCelsius] = now.Temperature.Celsius;
        }
    }

    public override void TookHumidity(in HumidityInput input)
    {
        ref var state = ref Of(input.Station).Saturated;
        if (!SaturatedHumidity.Concerns(ref state, input))
        {
            return;
        }

        var isOpenAir = !input.IsCovered && (Location.Batches.Any(batch => batch.IsOpenHere) || WaterEvaporatesBy(input.Station, input.At));
        Saturated(state.PassTo(input.Known, input.IsGap || !isOpenAir, Limits.SaturatedHold, TimeSpan.Zero), state, input.Station);
        Saturated(SaturatedHumidity.Step(ref state, input, isOpenAir, Limits.SaturatedHold), state, input.Station);
    }

    private static string HolderOf(StationState station, ProbeFault fault) => $"{station.Name} {fault}";

    private void Saturated(Transition transition, in HeldCondition held, StationState station)
    {
        if (Follow(transition, held, station.Subject, $"{station.Name} saturated", Severity.Note) is { } alert)
        {
            Name(alert, station, ProbeFault.SaturatedHumidity);
        }
    }

    // Wet media stays a few degrees cooler than the air around it only while water evaporates into that air: then it is not saturated,
    // whatever a sensor says.
    private bool WaterEvaporatesBy(StationState station, Moment at) =>
        station is { Measurand: Measurand.Air, Last: { } air }
        && Location.Stations.Any(other => other is { Measurand: Measurand.Media, Last: { } media } && other.IsFreshAt(at)
            && EvaporativeCooling.Explains(air.Temperature.Celsius, media.Temperature.Celsius));

    private void End(StationState station, ProbeFault fault, Moment at)
    {
        if (Of(station).Lone.TakeEnd(fault, at) is { } end)
        {
            Release(station.Subject, HolderOf(station, fault), end);
        }
    }

    private OpenAlert Tell(StationState station, ProbeFault fault, Severity severity, Moment since, Moment at)
    {
        var alert = Raise(station.Subject, severity, since, at, HolderOf(station, fault));
        Name(alert, station, fault);
        return alert;
    }

    private static void Name(OpenAlert alert, StationState station, ProbeFault fault)
    {
        if (alert.Fault == ProbeFault.None)
        {
            alert.Probe = station.Id;
            alert.Fault = fault;
        }
    }
}
