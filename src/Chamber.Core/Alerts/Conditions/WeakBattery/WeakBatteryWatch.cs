using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.WeakBattery;

/// <summary>Batteries on one place, probe by probe.</summary>
internal sealed class WeakBatteryWatch(Condition condition, PlaceState place) : StationWatch<HeldCondition>(condition, place), ITakeBattery
{
    private static readonly TimeSpan Hold = TimeSpan.FromHours(1);
    private double limit = place.Settings.Limits.Of(WeakBatteryCondition.Charge);

    public override void TakeLimits() => limit = Limits.Of(WeakBatteryCondition.Charge);

    /// <summary>The rule: low for an hour, over at twice that.</summary>
    public static Transition Step(ref HeldCondition state, Moment at, double percent, double limitPercent) =>
        state.Judge(at, percent <= limitPercent, percent >= 2 * limitPercent, Hold, TimeSpan.Zero);

    public void TookBattery(StationState station, Moment at, double percent)
    {
        ref var state = ref Of(station);
        Follow(state.Advance(at, Hold, TimeSpan.Zero), state, station.Subject, station.Name, Severity.Note);
        Follow(Step(ref state, at, percent, limit), state, station.Subject, station.Name, Severity.Note);
        if (state.IsOpen && Find(station.Subject) is { } alert)
        {
            alert.Probe = station.Id;
            alert[FigureName.Percent] = percent;
        }
    }
}
