using Chamber.Core.Alerts.Conditions.TooHot;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.Swinging;

/// <summary>Hours of a day that a batch spent beyond its limits, on either side.</summary>
internal struct SwingingState
{
    public HeldCondition Held;
    public RollingDay Cold;
    public RollingDay Hot;
}

/// <summary>Swings on one location, for each batch that is there; judged at the end of each hour of the probe that speaks for the
/// spot.</summary>
internal sealed class SwingingWatch(Condition condition, LocationState location)
    : BatchWatch<SwingingState, SwingingLimits>(condition, location, limits => new(limits))
{
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    public override void Followed(BatchState batch, in SpotLeg leg)
    {
        if (batch.IsSeedling)
        {
            return;
        }

        if (leg.MeanCelsius < batch.Terms.CoolLimit.Celsius)
        {
            Of(batch).Cold.Add(leg.To.At, leg.Hours);
        }
        else if (leg.MeanCelsius > batch.Terms.HotLimit.Celsius)
        {
            Of(batch).Hot.Add(leg.To.At, leg.Hours);
        }
    }

    public override QuietBand QuietFor(BatchState batch) =>
        batch.IsSeedling ? QuietBand.All : new(batch.Terms.CoolLimit.Celsius, batch.Terms.HotLimit.Celsius);

    /// <summary>The rule: so many hours beyond both limits within a day.</summary>
    public static Transition Step(ref SwingingState state, Moment at, bool isUp, SwingingLimits limits)
    {
        var cold = state.Cold.SumAt(at);
        var hot = state.Hot.SumAt(at);
        return state.Held.Judge(
            at,
            !isUp && cold >= limits.ColdHours && hot >= limits.HotHours,
            isUp || cold < limits.ColdHours / 2 || hot < limits.HotHours / 2,
            TimeSpan.Zero,
            TimeSpan.Zero);
    }

    public override void HourEnded(in StationHour hour)
    {
        if (!hour.IsReference)
        {
            return;
        }

        foreach (var batch in Location.Batches)
        {
            var transition = Step(ref Of(batch), hour.End, batch.IsUp, Limits);
            if (transition == Transition.Closed)
            {
                Release(Location.Subject, batch.Name, hour.End);
            }
            else if (transition == Transition.Opened)
            {
                Open(batch, hour);
            }
        }
    }

    private void Open(BatchState batch, in StationHour hour)
    {
        var since = hour.End.Ticks > Day.Ticks ? hour.End - Day : Moment.Beginning;
        var alert = Raise(Location.Subject, Severity.Note, since, hour.End, batch.Name);
        alert.Probe ??= hour.Station.Id;
        alert[FigureName.LowestCelsius] = hour.Station.LastDay.Lowest.Celsius;
        alert[FigureName.WorstCelsius] = hour.Station.LastDay.Highest.Celsius;
        alert[FigureName.LimitCelsius] = TooHotCondition.LimitOf(batch, Limits.SeedlingKelvins);
    }
}
