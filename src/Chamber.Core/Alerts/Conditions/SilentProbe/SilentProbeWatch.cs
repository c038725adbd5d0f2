using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.SilentProbe;

/// <summary>Silence on one location, probe by probe. Whether a probe is silent the location knows too, since the silence of all is another
/// condition.</summary>
internal sealed class SilentProbeWatch(Condition condition, LocationState location) : ConditionWatch(condition, location)
{
    public override void Heard(StationState station, Moment at)
    {
        if (!station.IsSilent && at - station.HeardAt <= station.MaxGap)
        {
            return;
        }

        Advance(station, at);
        if (station.IsSilent)
        {
            station.IsSilent = false;
            Release(station.Subject, station.Name, at);
        }
    }

    public override void Advance(Moment to)
    {
        foreach (var station in Location.Stations)
        {
            Advance(station, to);
        }
    }

    // Whoever watched has told it by then; a fold of all at once tells it too.
    public override void Leaving(StationState station, Moment at) => Advance(station, at);

    /// <summary>The rule: when a probe that was heard last at a moment is silent; null when it is not, or need not speak.</summary>
    public static Moment? SilentFrom(StationState station, Moment to, OutageList outages)
    {
        if (station.IsHandRead || station.HeardAt is not { } heard || to - heard <= station.MaxGap)
        {
            return null;
        }

        var due = outages.DueAfter(heard, station.MaxGap);
        return to > due ? due : null;
    }

    private void Advance(StationState station, Moment to)
    {
        if (station.IsSilent || SilentFrom(station, to, Location.Settings.Outages) is not { } due)
        {
            return;
        }

        station.IsSilent = true;

        // A reading at the very moment still comes in time.
        Location.Mark = Moment.Later(Location.Mark, new(due.Ticks + 1));
        var alert = Raise(station.Subject, Severity.Warning, station.HeardAt!.Value, due, station.Name);
        alert.Probe = station.Id;
        alert[FigureName.Hours] = station.MaxGap.Ticks / (double)NodaConstants.TicksPerHour;
        if (station.Last is { } last)
        {
            alert[FigureName.LatestCelsius] = last.Temperature.Celsius;
        }
    }
}
