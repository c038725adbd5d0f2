using Chamber.Core.Alerts.Limits;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Fold;

/// <summary>A condition with limits that a user may set.</summary>
/// <param name="condition">Whose rule it is.</param>
/// <param name="location">What the conditions of the location share.</param>
/// <param name="read">Reads its limits out of those in force.</param>
internal abstract class LimitedWatch<TLimits>(Condition condition, LocationState location, Func<WatchLimits, TLimits> read)
    : ConditionWatch(condition, location)
{
    /// <summary>Its limits in force.</summary>
    protected TLimits Limits { get; private set; } = read(location.Settings.Limits);

    public sealed override void TakeLimits() => Limits = read(Location.Settings.Limits);
}

/// <summary>A condition with a state for each probe of a location.</summary>
internal abstract class StationWatch<TState, TLimits>(Condition condition, LocationState location, Func<WatchLimits, TLimits> read)
    : LimitedWatch<TLimits>(condition, location, read)
    where TState : struct
{
    private TState[] states = [];

    public override void Added(StationState station) => states = states.WithOneAt(station.Index);

    public override void Removed(StationState station, Moment at) => states = states.Without(station.Index);

    protected ref TState Of(StationState station) => ref states[station.Index];

    protected override void OwnStates() => states = [.. states];
}

/// <summary>A condition with a state for each batch of a location.</summary>
internal abstract class BatchWatch<TState, TLimits>(Condition condition, LocationState location, Func<WatchLimits, TLimits> read)
    : LimitedWatch<TLimits>(condition, location, read)
    where TState : struct
{
    private TState[] states = [];

    public override void Added(BatchState batch) => states = states.WithOneAt(batch.Index);

    public override void Removed(BatchState batch, Moment at) => states = states.Without(batch.Index);

    protected ref TState Of(BatchState batch) => ref states[batch.Index];

    protected override void OwnStates() => states = [.. states];
}
