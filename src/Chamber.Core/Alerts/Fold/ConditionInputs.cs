using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// Everything that a condition may take in about a location: readings, facts, time. Nothing follows from any of it here; a condition
/// overrides what it takes (<see cref="InputTable"/> looks).
/// </summary>
internal abstract class ConditionInputs
{
    /// <summary>A probe said anything at all.</summary>
    public virtual void Heard(StationState station, Moment at)
    {
    }

    /// <summary>A temperature as it was measured, before lone values are held back.</summary>
    public virtual void Measured(StationState station, in TimedTemperature now)
    {
    }

    /// <summary>A temperature that lies far off the last is held back.</summary>
    public virtual void HeldBack(StationState station, in TimedTemperature suspect)
    {
    }

    /// <summary>The next one bears it out.</summary>
    public virtual void BorneOut(StationState station, in TimedTemperature suspect)
    {
    }

    /// <summary>It was a lone value.</summary>
    public virtual void Dropped(StationState station, in TimedTemperature suspect)
    {
    }

    /// <summary>A temperature that counts, before it becomes the last.</summary>
    public virtual void Accepted(StationState station, in TimedTemperature now)
    {
    }

    /// <summary>A straight line of the spot's temperature, for a batch that is there.</summary>
    public virtual void Followed(BatchState batch, in SpotLeg leg)
    {
    }

    /// <summary>
    /// The band in which a line of the spot's temperature would change nothing for a batch, as things stand: such lines are not handed on.
    /// It is asked again after each line that was, and after anything else that happened to the location.
    /// </summary>
    public virtual QuietBand QuietFor(BatchState batch) => QuietBand.None;

    /// <summary>The spot's temperature is known again, for a batch that is there.</summary>
    public virtual void TakenUp(BatchState batch, in SpotGap gap)
    {
    }

    /// <summary>The mean of a whole hour of a probe on a spot.</summary>
    public virtual void HourEnded(in StationHour hour)
    {
    }

    public virtual void TookHumidity(in HumidityInput input)
    {
    }

    /// <summary>Moisture of media where a batch stands.</summary>
    public virtual void TookMoisture(in MoistureInput input)
    {
    }

    /// <summary>The charge of a battery.</summary>
    public virtual void TookBattery(StationState station, Moment at, double percent)
    {
    }

    /// <summary>Time passes without a reading.</summary>
    public virtual void Advance(Moment to)
    {
    }

    /// <summary>The next moment at which it has something to do that nothing else brings about; never when there is none.</summary>
    public virtual Moment Due => Moment.Never;

    /// <summary>That moment has come.</summary>
    public virtual void MeetDue(Moment due)
    {
    }

    /// <summary>Other limits are in force.</summary>
    public virtual void TakeLimits()
    {
    }

    public virtual void Added(StationState station)
    {
    }

    /// <summary>The probe is about to leave: what fell due before is said first.</summary>
    public virtual void Leaving(StationState station, Moment at)
    {
    }

    /// <summary>The probe leaves; what it held open is closed already.</summary>
    public virtual void Removed(StationState station, Moment at)
    {
    }

    public virtual void Added(BatchState batch)
    {
    }

    /// <summary>The batch has left; what it held open is closed already.</summary>
    public virtual void Removed(BatchState batch, Moment at)
    {
    }

    public virtual void Calibrated(StationState station, TemperatureDifference change, Moment at)
    {
    }

    public virtual void Surveyed(Surveyed survey)
    {
    }

    public virtual void Wetted(Wetted wetting)
    {
    }

    public virtual void Uncovered(BatchState batch, Moment at)
    {
    }

    /// <param name="batch">Which batch.</param>
    /// <param name="at">When.</param>
    /// <param name="isMore">Whether more were up than before.</param>
    public virtual void Looked(BatchState batch, Moment at, bool isMore)
    {
    }

    public virtual void LookWanted(BatchState batch, LookWanted look)
    {
    }

    public virtual void WaitingOver(BatchState batch, WaitingOver end)
    {
    }

    /// <summary>What a batch that leaves takes along; null for nothing.</summary>
    public virtual CarriedState? Carry(BatchState batch) => null;

    /// <summary>Goes on with what a batch has brought along.</summary>
    public virtual void Resume(BatchState batch, CarriedState carried)
    {
    }

    /// <summary>Whether an alert of this kind that a batch brings along holds here too.</summary>
    public virtual bool HoldsOn(BatchState batch) => true;
}
