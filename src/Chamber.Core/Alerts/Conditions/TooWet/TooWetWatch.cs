using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.TooWet;

/// <summary>Too wet on one location, by each media probe.</summary>
internal sealed class TooWetWatch(Condition condition, LocationState location)
    : StationWatch<HeldCondition, TooWetLimits>(condition, location, limits => new(limits))
{
    /// <summary>The rule: near the saturated reading for so long, over when well below it.</summary>
    public static Transition Step(ref HeldCondition state, in MoistureInput input, TooWetLimits limits) => state.Judge(
        input.At, input.Percent > limits.WetPercent, input.Percent < limits.WetPercent - limits.Moisture.MarginPercent,
            limits.HoldOf(input.IsTowel), limits.Moisture.DryHold);

    public override void TookMoisture(in MoistureInput input)
    {
        ref var state = ref Of(input.Station);
        Change(state.PassTo(input.Known, input.IsGap, Limits.HoldOf(input.IsTowel), Limits.Moisture.DryHold), state, input);
        Change(Step(ref state, input, Limits), state, input);
        if (state.IsOpen && Find(Location.Subject) is { } alert)
        {
            alert.LastAt = input.At;
            alert[FigureName.Percent] = input.Percent;
        }
    }

    // Fresh water is no fault: its time restarts.
    public override void Wetted(Wetted wetting)
    {
        foreach (var station in Location.Stations)
        {
            Of(station).Lose();
        }
    }

    public override void Removed(BatchState batch, Moment at)
    {
        foreach (var station in Location.Batches.Count == 0 ? Location.Stations : [])
        {
            Restart(ref Of(station), at);
        }
    }

    private void Change(Transition transition, in HeldCondition held, in MoistureInput input)
    {
        if (Follow(transition, held, Location.Subject, input.Station.Name, Severity.Warning) is { } alert)
        {
            alert.Probe ??= input.Station.Id;
            alert[FigureName.Percent] = input.Percent;
            alert[FigureName.LimitPercent] = Limits.WetPercent;
        }
    }
}
