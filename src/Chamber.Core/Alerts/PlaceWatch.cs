using Chamber.Core.Climate;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts;

/// <summary>
/// The fold of one place: readings and facts in order of time in, alerts out. A function of both alone, so that folding
/// the same again gives the same again. <see cref="Copy"/> keeps a state apart as a checkpoint.
/// </summary>
internal sealed partial class PlaceWatch
{
    private readonly AlertSubject subject;
    private readonly HourLog hours;
    private WatchTicks limits;
    private PlaceTimeline timeline;
    private OutageList outages;
    private List<StationState> stations = [];
    private List<BatchState> batches = [];
    private List<PairState> pairs = [];
    private List<BatchDeparture> departures = [];
    private int next;
    private long nextAt;
    private long nextDue = long.MaxValue;
    private double? surveyMean;
    private LeftSurvey left;
    private StationState? lead;

    public PlaceWatch(Place place, PlaceTimeline timeline, WatchTicks limits, OutageList outages, HourLog hours)
    {
        Place = place;
        this.timeline = timeline;
        this.limits = limits;
        this.outages = outages;
        this.hours = hours;
        subject = place.Spot is { } spot ? AlertSubject.Of(spot) : AlertSubject.Of(place.LoneProbe!.Value);
        nextAt = timeline.AtOf(0);
    }

    public Place Place { get; }

    public AlertBook Book { get; private set; } = new();

    /// <summary>Up to where everything is folded: what lies before comes too late. -1 before the first.</summary>
    public long Mark { get; private set; } = -1;

    public IReadOnlyList<StationState> Stations => stations;

    public PlaceTimeline Timeline => timeline;

    /// <summary>Puts other facts under the state. They must not differ before <see cref="Mark"/>.</summary>
    public void Adopt(PlaceTimeline timeline, WatchTicks limits, OutageList outages)
    {
        this.timeline = timeline;
        this.limits = limits;
        this.outages = outages;
        next = timeline.CountUpTo(Mark);
        nextAt = timeline.AtOf(next);
    }

    public PlaceWatch Copy()
    {
        var copy = (PlaceWatch)MemberwiseClone();
        copy.Book = Book.Copy();
        copy.stations = stations.ConvertAll(station => station.Copy());
        copy.batches = batches.ConvertAll(batch => batch.Copy());
        copy.pairs = pairs.ConvertAll(pair => pair.Copy());
        copy.departures = [.. departures];
        copy.lead = lead is null ? null : copy.stations[stations.IndexOf(lead)];
        return copy;
    }

    /// <summary>Folds the next reading. One of a probe that does not stand here is not counted.</summary>
    public void Fold(in Reading reading, long at)
    {
        if (nextAt <= at)
        {
            ApplyChanges(at);
        }

        if (nextDue <= at)
        {
            MeetDeadlines(at);
        }

        Mark = at;
        if (StationOf(reading.Probe) is not { } station)
        {
            return;
        }

        Hear(station, at);
        if (reading.Temperature is { } temperature)
        {
            TakeTemperature(station, at, temperature.Celsius + station.OffsetKelvins);
        }

        if (reading.Humidity is { } humidity)
        {
            TakeHumidity(station, at, humidity.Percent);
        }

        if (reading.Moisture is { } moisture)
        {
            TakeMoisture(station, at, moisture);
        }

        if (reading.Battery is { } battery)
        {
            TakeBattery(station, at, battery);
        }
    }

    /// <summary>Lets time pass without a reading, as far as that changes anything.</summary>
    public void Advance(long to)
    {
        if (nextAt <= to)
        {
            ApplyChanges(to);
        }

        if (nextDue <= to)
        {
            MeetDeadlines(to);
        }

        foreach (var station in stations)
        {
            AdvanceSilence(station, to);
            AdvanceHazard(station, Math.Min(to, KnownUntil(station)));
        }

        if (lead is not null)
        {
            AdvanceBatches(lead, Math.Min(to, KnownUntil(lead)));
        }
    }

    private static long KnownUntil(StationState station) => station.HasLast ? station.LastAt + station.MaxGap : long.MinValue;

    private StationState? StationOf(ProbeId probe)
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

    private void TakeTemperature(StationState station, long at, double celsius)
    {
        if (station.HasSuspect)
        {
            SettleSuspect(station, celsius);
        }

        JudgeHazard(station, at, celsius);
        if (station.IsWild(at, celsius, limits))
        {
            station.HazardBySuspect |= station.Hazard.IsOpen && station.Hazard.TurnedAt == at;
            station.HoldBack(at, celsius);
            return;
        }

        Accept(station, at, celsius);
    }

    private void SettleSuspect(StationState station, double celsius)
    {
        station.DropSuspect();
        if (station.BearsOut(celsius))
        {
            CountRate(station);
            Accept(station, station.SuspectAt, station.SuspectCelsius);
        }
        else
        {
            CountFault(station, station.Spikes, ProbeFault.Spike, station.SuspectAt);
            if (station.HazardBySuspect)
            {
                station.Hazard = default;
                Book.Release(AlertKind.Hazard, subject, station.Name, station.SuspectAt, CloseReason.LoneReading, HarmOf);
            }
        }

        station.HazardBySuspect = false;
    }

    private void Accept(StationState station, long at, double celsius)
    {
        PassHours(station, at, celsius);
        JudgeFlatLine(station, at, celsius);
        var speaker = LeadAt(station, at);
        if (speaker == station)
        {
            var connected = lead == station && station.HasLast && at - station.LastAt <= station.MaxGap;
            FoldBatches(station, at, celsius, connected);
            lead = station;
        }

        station.LastAt = at;
        station.LastCelsius = celsius;
    }

    // Media before outside before air; the next best takes over once a better one has been silent for its bound.
    private StationState LeadAt(StationState spoke, long at)
    {
        var best = spoke;
        for (var i = 0; i < stations.Count; i++)
        {
            var other = stations[i];
            if (other.Rank < best.Rank && other.IsFreshAt(at))
            {
                best = other;
            }
            else if (other.Rank == best.Rank && other != best && other.IsFreshAt(at) && string.CompareOrdinal(other.Name, best.Name) < 0)
            {
                best = other;
            }
        }

        return best;
    }

    private IReadOnlyList<BatchHarm> HarmOf(OpenAlert alert) => alert.Kind switch
    {
        AlertKind.TooCold => [.. batches.Where(batch => alert.IsHeldBy(batch.Name)).Select(batch => batch.HarmOfCold())],
        AlertKind.TooHot => [.. batches.Where(batch => alert.IsHeldBy(batch.Name)).Select(batch => batch.HarmOfHeat())],
        AlertKind.Hazard => [.. batches.Select(batch => batch.HarmOfHazard(alert[FigureName.WorstCelsius]))],
        AlertKind.Swinging => [.. batches.Where(batch => alert.IsHeldBy(batch.Name)).Select(batch => batch.HarmOfSwing())],
        _ => [],
    };

    /// <summary>What a drift of the spot, which the home tells, means for the batches that stand there.</summary>
    public IReadOnlyList<BatchHarm> HarmOfDrift(IReadOnlyList<DriftedHour> hours) => [.. batches.Select(batch => batch.HarmOfDrift(hours)).OfType<BatchHarm>()];

    /// <summary>The alerts as they stand: those closed lately, then those open.</summary>
    public IEnumerable<Alert> Alerts() =>
        Book.Closed.Concat(Book.Open.Select(alert => alert.ToAlert(HarmOf(alert), null, null)));
}
