using Chamber.Core.Alerts;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Alerts.Limits;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Tests.Alerts.Conditions;

/// <summary>A toy condition, as somebody would add one: a probe in the air that is warmer than a limit for so many readings. All of it is
/// here.</summary>
internal sealed class WarmAirCondition : Condition
{
    public static readonly NumberLimit Above = new("warm air above", 28, "°C", "air above this");

    public override AlertKind Kind => new("WarmAir");

    public override IReadOnlyList<Limit> Limits => [Above];

    public override ConditionDocs Docs { get; } = new("air over 28 °C, three readings in a row.", "at the first reading below.");

    public override ConditionWatch At(LocationState place) => new WarmAirWatch(this, place);

    public override AlertText Words(AlertTeller teller) =>
        new($"Warm air on {teller.Subject}", $"{teller.Latest()} since {teller.Since()}.", "", "Open a window.");
}

/// <summary>How many warm readings in a row.</summary>
internal struct WarmAirState
{
    public int Count;
    public Moment Since;

    /// <summary>The rule.</summary>
    public static Transition Step(ref WarmAirState state, in TimedTemperature now, double limit)
    {
        if (now.Temperature.Celsius <= limit)
        {
            var wasOpen = state.Count >= 3;
            state = default;
            return wasOpen ? Transition.Closed : Transition.None;
        }

        state.Since = state.Count == 0 ? now.At : state.Since;
        return ++state.Count == 3 ? Transition.Opened : Transition.None;
    }
}

/// <summary>The toy on one place.</summary>
internal sealed class WarmAirWatch(Condition condition, LocationState place)
    : StationWatch<WarmAirState, double>(condition, place, limits => limits.Of(WarmAirCondition.Above))
{
    public override void Accepted(StationState station, in TimedTemperature now)
    {
        if (station.Measurand != Measurand.Air)
        {
            return;
        }

        ref var state = ref Of(station);
        var since = state.Since;
        switch (WarmAirState.Step(ref state, now, Limits))
        {
            case Transition.Opened:
                Raise(Location.Subject, Severity.Note, since, now.At, station.Name)[FigureName.LatestCelsius] = now.Temperature.Celsius;
                break;
            case Transition.Closed:
                Release(Location.Subject, station.Name, now.At);
                break;
            default:
                break;
        }
    }
}
