using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.DryingOut;

/// <summary>Drying out on one location, by each media probe, and by each probe in the air under a cover.</summary>
internal sealed class DryingOutWatch(Condition condition, LocationState location)
    : StationWatch<DryingOutState, DryingOutLimits>(condition, location, limits => new(limits))
{
    public override void TookMoisture(in MoistureInput input)
    {
        ref var state = ref Of(input.Station);
        Dry(state.Dry.PassTo(input.Known, input.IsGap, Limits.Moisture.DryHold, TimeSpan.Zero), state, input);
        Dry(DryingOutRule.Step(ref state, input, Limits), state, input);
        if (state.Dry.IsOpen && Find(Location.Subject) is { } alert)
        {
            alert.LastAt = input.At;
            alert[FigureName.Percent] = input.Percent;
        }
    }

    public override void TookHumidity(in HumidityInput input)
    {
        if (!input.IsCovered)
        {
            return;
        }

        ref var state = ref Of(input.Station);
        if (!DryingOutRule.StepLid(ref state, input, Limits))
        {
            return;
        }

        Leak(state.LidLeaks.PassTo(input.Known, input.IsGap, Limits.LidDryHold, Limits.Moisture.DryHold), state, input);
        Leak(DryingOutRule.StepLeak(ref state, input, Limits), state, input);
    }

    public override void Wetted(Wetted wetting)
    {
        foreach (var station in Location.Stations)
        {
            Restart(ref Of(station).Dry, wetting.At);
        }
    }

    public override void Uncovered(BatchState batch, Moment at)
    {
        if (Location.Batches.All(other => !other.IsCovered))
        {
            foreach (var station in Location.Stations)
            {
                ForgetLid(station, at);
            }
        }
    }

    public override void Removed(BatchState batch, Moment at)
    {
        foreach (var station in Location.Batches.Count == 0 ? Location.Stations : [])
        {
            Restart(ref Of(station).Dry, at);
            ForgetLid(station, at);
        }
    }

    private void ForgetLid(StationState station, Moment at)
    {
        ref var state = ref Of(station);
        Restart(ref state.LidLeaks, at);
        state.LidTight = default;
    }

    private void Dry(Transition transition, in DryingOutState state, in MoistureInput input)
    {
        if (Follow(transition, state.Dry, Location.Subject, input.Station.Name, Severity.Warning) is { } alert)
        {
            alert.Probe ??= input.Station.Id;
            alert[FigureName.Percent] = input.Percent;
            alert[FigureName.LimitPercent] = Limits.DryPercent(input.IsTowel);
        }
    }

    private void Leak(Transition transition, in DryingOutState state, in HumidityInput input)
    {
        if (Follow(transition, state.LidLeaks, Location.Subject, $"{input.Station.Name} lid", Severity.Note) is not { Probe: null } alert)
        {
            return;
        }

        alert.Probe = input.Station.Id;
        alert[FigureName.Percent] = input.Percent;
        alert[FigureName.LimitPercent] = Limits.LidDryPercent;
        if (input.Station.Last is { } last
            && Psychrometrics.DewPointGap(last.Temperature, RelativeHumidity.FromPercent(input.Percent)) is { } gap)
        {
            alert[FigureName.DewPointGapKelvins] = gap.Kelvins;
        }
    }
}
