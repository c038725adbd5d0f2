using System.Runtime.InteropServices;
using Chamber.Core.Alerts.Fold;
using Chamber.Core.Climate;
using Chamber.Core.Folding;

namespace Chamber.Core.Alerts.Conditions.ProbesDisagree;

/// <summary>What is usual for one probe here, to tell which of two has moved.</summary>
internal struct UsualHours
{
    public UsualDay Usual;

    /// <summary>How far the last hours lay off that, K.</summary>
    public RecentHours Off;
}

/// <summary>Probes of one spot that no longer agree, pair by pair; the other sign of it, one that drifts while the other does not, is found
/// with the drift.</summary>
internal sealed class ProbesDisagreeWatch(Condition condition, LocationState location)
    : StationWatch<UsualHours, ProbesDisagreeLimits>(condition, location, limits => new(limits))
{
    private const int RecentHours = 6;
    private List<ProbePair> pairs = [];

    public override void Calibrated(StationState station, TemperatureDifference change, Moment at)
    {
        Of(station).Usual.Move(change.Kelvins);
        foreach (ref var pair in CollectionsMarshal.AsSpan(pairs))
        {
            pair.Move(station.Id, change.Kelvins);
        }
    }

    public override void Removed(StationState station, Moment at)
    {
        base.Removed(station, at);
        pairs.RemoveAll(pair => pair.First == station.Id || pair.Second == station.Id);
    }

    public override void HourEnded(in StationHour hour)
    {
        var station = hour.Station;
        ref var state = ref Of(station);
        state.Off.Add(state.Usual.At(hour.HourOfDay) is { } usual ? hour.Mean.Temperature.Celsius - usual : 0);
        state.Usual.Learn(hour.HourOfDay, hour.Mean.Temperature.Celsius, follow: true);
        foreach (var other in Location.Stations)
        {
            if (other != station && other.Measurand == station.Measurand && other.LastHour is { } last && last.At == hour.End)
            {
                Judge(string.CompareOrdinal(other.Name, station.Name) < 0 ? (other, station) : (station, other), hour.End);
            }
        }
    }

    protected override void OwnStates()
    {
        base.OwnStates();
        pairs = [.. pairs];
    }

    private void Judge((StationState First, StationState Second) both, Moment end)
    {
        ref var pair = ref PairOf(both.First.Id, both.Second.Id);
        var difference = both.First.LastHour!.Value.Temperature.Celsius - both.Second.LastHour!.Value.Temperature.Celsius;
        var transition = pair.Step(end, difference, Limits);
        if (transition == Transition.Closed)
        {
            Release(Location.Subject, pair.Holder, pair.Held.ChangedAt);
        }
        else if (transition == Transition.Opened)
        {
            var moved = Math.Abs(Of(both.First).Off.Mean(RecentHours)) >= Math.Abs(Of(both.Second).Off.Mean(RecentHours))
                ? both.First : both.Second;
            var alert = Raise(Location.Subject, Severity.Warning, pair.Held.Since, pair.Held.ChangedAt, pair.Holder);
            alert.Probe ??= moved.Id;
            alert[FigureName.ShiftKelvins] = pair.Change;
        }
    }

    private ref ProbePair PairOf(ProbeId first, ProbeId second)
    {
        var index = pairs.FindIndex(pair => pair.First == first && pair.Second == second);
        if (index < 0)
        {
            index = pairs.Count;
            pairs.Add(new(first, second));
        }

        return ref CollectionsMarshal.AsSpan(pairs)[index];
    }
}
