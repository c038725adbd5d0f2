using Chamber.Core.Alerts.Limits;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Folding;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>What all conditions of a location share: who is there, what is known of them, and the book of its alerts.</summary>
internal sealed class LocationState(Location location, LocationSettings settings, HourLog hours, Func<ProbeId, Moment> silenceFrom)
{
    private List<StationState> stations = [];
    private List<BatchState> batches = [];

    public Location Location { get; } = location;

    public AlertSubject Subject { get; } = location.Spot is { } spot ? AlertSubject.Of(spot) : AlertSubject.Of(location.LoneProbe!.Value);

    public LocationSettings Settings { get; set; } = settings;

    /// <summary>From when on silence of a probe proves anything; before that nobody has read what it said.</summary>
    public Func<ProbeId, Moment> SilenceFrom { get; } = silenceFrom;

    /// <summary>The hours of the location, from which drift is reported.</summary>
    public HourLog Hours { get; } = hours;

    public AlertBook Book { get; private set; } = new();

    /// <summary>Up to where everything is folded: what lies before comes too late.</summary>
    public Moment Mark { get; set; } = new(-1);

    public List<StationState> Stations => stations;

    public List<BatchState> Batches => batches;

    /// <summary>The probe that speaks for the spot.</summary>
    public StationState? Reference { get; set; }

    public StationState? Find(ProbeId probe)
    {
        foreach (var station in stations)
        {
            if (station.Id == probe)
            {
                return station;
            }
        }

        return null;
    }

    public BatchState? Find(BatchId batch) => batches.Find(known => known.Id == batch);

    public void Add(StationState station)
    {
        station.Index = stations.Count;
        stations.Add(station);
    }

    public void Add(BatchState batch)
    {
        batch.Index = batches.Count;
        batches.Add(batch);
    }

    public void Remove(StationState station)
    {
        stations.RemoveAt(station.Index);
        for (var index = station.Index; index < stations.Count; index++)
        {
            stations[index].Index = index;
        }

        Reference = Reference == station ? null : Reference;
    }

    public void Remove(BatchState batch)
    {
        batches.RemoveAt(batch.Index);
        for (var index = batch.Index; index < batches.Count; index++)
        {
            batches[index].Index = index;
        }
    }

    /// <summary>Media before outside before air; the next best takes over once a better one has been silent for its bound.</summary>
    public StationState ReferenceAt(StationState spoke, Moment at)
    {
        var best = spoke;
        for (var i = 0; i < stations.Count; i++)
        {
            var other = stations[i];
            if (other != best && other.IsFreshAt(at)
                && (other.Rank < best.Rank || (other.Rank == best.Rank && string.CompareOrdinal(other.Name, best.Name) < 0)))
            {
                best = other;
            }
        }

        return best;
    }

    /// <summary>What an alert means for the batches here.</summary>
    public IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert) => Settings.Conditions.Of(alert.Kind).HarmOf(alert, this);

    public void Release(AlertKind kind, AlertSubject subject, string holder, Moment at, CloseReason reason = CloseReason.Over) =>
        Book.Release(kind, subject, holder, at, reason, HarmOf);

    public void ReleaseAll(Predicate<string> holder, Moment at) => Book.ReleaseAll(holder, at, HarmOf);

    /// <summary>A copy that is independent, but for the log of hours, which is one for the whole time of a location.</summary>
    public LocationState Copy()
    {
        var copy = (LocationState)MemberwiseClone();
        copy.Book = Book.Copy();
        copy.stations = stations.ConvertAll(station => station.Copy());
        copy.batches = batches.ConvertAll(batch => batch.Copy());
        copy.Reference = Reference is null ? null : copy.stations[Reference.Index];
        return copy;
    }
}

/// <summary>What a location is judged by: other settings are another fold.</summary>
/// <param name="Conditions">The conditions that are looked for.</param>
/// <param name="Limits">The limits in force.</param>
/// <param name="Zone">The home's zone.</param>
/// <param name="Outages">The times in which silence proves nothing.</param>
internal sealed record LocationSettings(ConditionSet Conditions, WatchLimits Limits, DateTimeZone Zone, OutageList Outages)
{
    /// <summary>See <see cref="LoneValue.Size"/>, K.</summary>
    public double SpikeKelvins { get; } = Limits.Of(LoneValue.Size);
}
