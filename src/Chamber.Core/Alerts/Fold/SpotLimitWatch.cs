using Chamber.Core.Alerts.Limits;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// A condition of a spot's temperature beyond a limit of each batch that is there. The alert is one of the spot, held by its batches.
/// </summary>
internal abstract class SpotLimitWatch<TLimits>(Condition condition, LocationState location, Func<WatchLimits, TLimits> read)
    : BatchWatch<HeldCondition, TLimits>(condition, location, read)
{
    public sealed override void Followed(BatchState batch, in SpotLeg leg)
    {
        ref var state = ref Of(batch);
        Change(batch, leg.Station, Pass(ref state, batch, leg.Station, leg.To.At), leg.To);
        CountLosses(batch, leg);
        Judge(ref state, batch, leg.Station, leg.To);
    }

    // A temperature that is not beyond the limit costs nothing, and leaves a state alone that is at rest.
    public sealed override QuietBand QuietFor(BatchState batch) => Of(batch).IsAtRest ? BandOf(batch) : QuietBand.None;

    public sealed override void TakenUp(BatchState batch, in SpotGap gap)
    {
        ref var state = ref Of(batch);
        if (gap.KnownBefore is { } known)
        {
            Change(batch, gap.Before!, Pass(ref state, batch, gap.Before!, known), gap.Before!.Last!.Value);
            state.Lose();
        }

        Judge(ref state, batch, gap.Station, gap.To);
    }

    public sealed override void Advance(Moment to)
    {
        if (Location.Reference is not { Last: { } last } reference)
        {
            return;
        }

        foreach (var batch in Location.Batches)
        {
            Change(batch, reference, Pass(ref Of(batch), batch, reference, Moment.Earlier(to, last.At + reference.MaxGap)), last);
        }
    }

    /// <summary>The temperatures that are not beyond the limit.</summary>
    protected abstract QuietBand BandOf(BatchState batch);

    /// <summary>Lets time pass in which the last temperature held.</summary>
    protected abstract Transition Pass(ref HeldCondition state, BatchState batch, StationState station, Moment to);

    /// <summary>Takes a temperature into the state, after time has passed up to it.</summary>
    protected abstract Transition Step(ref HeldCondition state, BatchState batch, StationState station, in TimedTemperature now);

    /// <summary>Counts what a line has cost the batch.</summary>
    protected abstract void CountLosses(BatchState batch, in SpotLeg leg);

    /// <summary>Notes the present temperature in the open alert.</summary>
    protected abstract void Note(OpenAlert alert, BatchState batch, in TimedTemperature now);

    /// <summary>Opens the alert.</summary>
    protected abstract void Open(BatchState batch, StationState station, in HeldCondition held, in TimedTemperature reading);

    /// <summary>The spell is over for the batch.</summary>
    protected abstract void EndSpell(BatchState batch);

    private void Judge(ref HeldCondition state, BatchState batch, StationState station, in TimedTemperature now)
    {
        Change(batch, station, Step(ref state, batch, station, now), now);
        if (state.IsOpen && Find(Location.Subject) is { } alert)
        {
            Note(alert, batch, now);
        }
    }

    private void Change(BatchState batch, StationState station, Transition transition, in TimedTemperature reading)
    {
        if (transition == Transition.None)
        {
            return;
        }

        var held = Of(batch);
        Location.Mark = Moment.Later(Location.Mark, held.ChangedAt);
        if (transition == Transition.Opened)
        {
            Open(batch, station, held, reading);
        }
        else
        {
            Release(Location.Subject, batch.Name, held.ChangedAt);
            EndSpell(batch);
        }
    }
}
