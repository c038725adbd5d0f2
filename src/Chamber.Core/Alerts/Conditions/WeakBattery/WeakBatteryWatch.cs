using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.WeakBattery;

/// <summary>Batteries on one location, probe by probe.</summary>
internal sealed class WeakBatteryWatch(Condition condition, LocationState location)
    : StationWatch<HeldCondition, double>(condition, location, limits => limits.Of(WeakBatteryCondition.Charge))
{
    private static readonly TimeSpan Hold = TimeSpan.FromHours(1);

    /// <summary>The rule: low for an hour, over at twice that.</summary>
    public static Transition Step(ref HeldCondition state, Moment at, double percent, double limitPercent) =>
        state.Judge(at, percent <= limitPercent, percent >= 2 * limitPercent, Hold, TimeSpan.Zero);

    public override void TookBattery(StationState station, Moment at, double percent)
    {
        ref var state = ref Of(station);
        if (state.IsAtRest && percent > Limits)
        {
            return;
        }

        Follow(state.Advance(at, Hold, TimeSpan.Zero), state, station.Subject, station.Name, Severity.Note);
        Follow(Step(ref state, at, percent, Limits), state, station.Subject, station.Name, Severity.Note);
        if (state.IsOpen && Find(station.Subject) is { } alert)
        {
            alert.Probe = station.Id;
            alert[FigureName.Percent] = percent;
        }
    }
}
