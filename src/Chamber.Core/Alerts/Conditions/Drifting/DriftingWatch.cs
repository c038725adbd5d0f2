using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// Writes the hours of a spot down for the home: drift is what a spot does and the others do not, so that no location can tell it by itself
/// (<see cref="HomeDrift"/>).
/// </summary>
internal sealed class DriftingWatch(Condition condition, LocationState location) : ConditionWatch(condition, location)
{
    public override void HourEnded(in StationHour hour) => Write(hour.End, hour.Station, HourEntryKind.Mean, hour.Mean.Temperature.Celsius);

    public override void Calibrated(StationState station, TemperatureDifference change, Moment at) =>
        Write(at, station, HourEntryKind.Offset, change.Kelvins);

    public override void Removed(StationState station, Moment at) => Write(at, station, HourEntryKind.Removed, 0);

    private void Write(Moment at, StationState station, HourEntryKind kind, double value)
    {
        if (Location.Location.Spot is not null)
        {
            Location.Hours.Write(new(at, Location.Mark, station.Id, kind, value));
        }
    }
}
