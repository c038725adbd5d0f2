using Chamber.Core.Alerts.Fold;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Conditions.SilentProbe;

/// <summary>Silence on one place, probe by probe. Whether a probe is silent the place knows too, since the silence of all is another
/// condition.</summary>
internal sealed class SilentProbeWatch(Condition condition, PlaceState place) : ConditionWatch(condition, place)
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
        foreach (var station in Place.Stations)
        {
            Advance(station, to);
        }
    }

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
        if (station.IsSilent || SilentFrom(station, to, Place.Settings.Outages) is not { } due)
        {
            return;
        }

        station.IsSilent = true;

        // A reading at the very moment still comes in time.
        Place.Mark = Moment.Later(Place.Mark, new(due.Ticks + 1));
        var alert = Raise(station.Subject, Severity.Warning, station.HeardAt!.Value, due, station.Name);
        alert.Probe = station.Id;
        alert[FigureName.Hours] = station.MaxGap.Ticks / (double)NodaConstants.TicksPerHour;
        if (station.Last is { } last)
        {
            alert[FigureName.LatestCelsius] = last.Temperature.Celsius;
        }
    }
}
