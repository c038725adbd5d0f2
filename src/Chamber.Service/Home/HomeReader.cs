using System.Collections.Concurrent;
using Chamber.Core;
using Chamber.Core.Alerts;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// Puts together what Core needs of this home: from what its facts come to, and the readings that are asked for, each loaded once. For
/// another question later make another reader (<see cref="HomeContext"/>). Any thread may ask.
/// </summary>
internal sealed class HomeReader(IHomeStore store, IHomeRecords records, Lazy<CropCatalog> catalog, DateTimeZone zone)
{
    /// <summary>A survey looks back so far.</summary>
    public static readonly Duration SurveyLength = Duration.FromDays(14);

    private readonly ConcurrentDictionary<SpotId, Survey> surveys = new();
    private Instant? now;
    private HomeLedger? ledger;
    private HomeMoment? moment;

    public HomeReader(IHomeStore store, IHomeRecords records, CropCatalog catalog, DateTimeZone zone)
        : this(store, records, new Lazy<CropCatalog>(catalog), zone)
    {
    }

    /// <summary>Facts and readings.</summary>
    public IHomeStore Store => store;

    /// <summary>What is kept beside them.</summary>
    public IHomeRecords Records => records;

    /// <summary>The moment that it was made for.</summary>
    public Instant Now
    {
        get => now ?? throw new InvalidOperationException("This reader was made for no moment.");
        init => now = value;
    }

    /// <summary>What other homes' batches have taught; null for nothing.</summary>
    public SharedKnowledge? Others => OthersWhenAsked.Value;

    /// <summary>The same, worked out when it is first asked for: most questions need none of it.</summary>
    public Lazy<SharedKnowledge?> OthersWhenAsked { private get; init; } = new((SharedKnowledge?)null);

    /// <summary>What the batches have taught by a moment: learned there and then, unless whoever made the reader keeps it.</summary>
    public Func<HomeReader, HomeForecasts, HomeKnowledge> Learned { get; init; } = (_, forecasts) => forecasts.Learn();

    /// <summary>What is recorded, read once; and again after something was written through this store, so that whoever writes reads it
    /// back.</summary>
    public HomeLedger Ledger => ledger is { IsCurrent: true } known ? known : ledger = new(store, records);

    /// <summary>What is worked out of this home at a moment; the last one that was asked for is kept.</summary>
    public HomeMoment At(Instant when)
    {
        var known = Ledger;
        return moment is { } same && same.Now == when && ReferenceEquals(same.Ledger, known) ? same : moment = new(this, known, when);
    }

    /// <summary>The same at the moment that it was made for.</summary>
    public HomeMoment AtNow => At(Now);

    /// <summary>Who writes through this reader, and by which way.</summary>
    public Author Author { get; private set; } = Author.Program;

    /// <summary>The same for somebody who writes; what was read and worked out is shared.</summary>
    public HomeReader As(Author author)
    {
        var other = (HomeReader)MemberwiseClone();
        other.Author = author;
        return other;
    }

    /// <summary>The same home with what is written in a draft of it.</summary>
    public HomeReader On(IHomeStore draft, IHomeRecords beside) => new(draft, beside, catalog, zone)
    {
        now = now,
        Author = Author,
        OthersWhenAsked = OthersWhenAsked,
        Learned = Learned,
        Scale = Scale,
        StopBelow = StopBelow,
    };

    public CropCatalog Catalog => catalog.Value;

    public DateTimeZone Zone => zone;

    /// <summary>How sentences about this home put temperatures.</summary>
    public TemperatureScale Scale { get; init; }

    /// <summary>The chance of one more seedling under which this home stops waiting, 0 to 1, both left out.</summary>
    public double StopBelow { get; init; } = Forecaster.StopBelow;

    public IReadOnlyList<Spot> Spots() => Ledger.Spots;

    /// <exception cref="BadInputException">There is none with this name; the message names those that there are.</exception>
    public Spot RequireSpot(string name) =>
        Spots().FirstOrDefault(spot => string.Equals(spot.Id.Text, name, StringComparison.OrdinalIgnoreCase))
        ?? throw (Spots() is { Count: > 0 } some
            ? BadInputException.NoSuch("spot", name, [.. some.Select(spot => spot.Id.Text)])
            : BadInputException.Unknown("There is no spot yet.", $"Add one: chamber spot add {name} --kind shelf"));

    /// <exception cref="BadInputException">There is none with this name.</exception>
    public Batch RequireBatch(string name) =>
        Ledger.Batches.FirstOrDefault(batch => batch.Id.Text == name)
        ?? Ledger.Batches.FirstOrDefault(batch => string.Equals(batch.Id.Text, name, StringComparison.OrdinalIgnoreCase))
        ?? throw BadInputException.Unknown(
            $"There is no batch \"{name}\".{NearNames.Question(name, Ledger.Batches.Select(batch => batch.Id.Text))}",
            "All of them: chamber batches --all");

    /// <summary>A time as somebody typed it, in the home's zone; <paramref name="now"/> when nothing was typed.</summary>
    /// <exception cref="BadInputException">It is not a time.</exception>
    public Instant TimeOf(string? typed, Instant now, string field = "at") =>
        typed is null ? now : BadInputException.In(field, () => TimeText.Parse(typed, zone, now));

    /// <summary>The same for something that was seen or done: it cannot lie ahead.</summary>
    public Instant PastOf(string? typed, Instant now, string field = "at")
    {
        var at = TimeOf(typed, now, field);
        if (at > now)
        {
            throw BadInputException.In(field, $"{TimeText.Show(at, zone, now)} is in the future: record only what has happened.");
        }

        return at;
    }

    /// <summary>The temperature of a spot from all probes that stood on it.</summary>
    public TemperatureTrace Trace(SpotId spot, Interval when) => SpotTemperature.Of(Probes(StaysOn(spot), when));

    /// <summary>The same thinned for a chart.</summary>
    /// <param name="spot">The spot.</param>
    /// <param name="when">From when to when.</param>
    /// <param name="parts">Into how many parts time is cut.</param>
    public ThinnedTrace Thinned(SpotId spot, Interval when, int parts) => SpotTemperature.Thinned(Probes(StaysOn(spot), when), when, parts);

    /// <summary>The temperature that a batch had, wherever it stood.</summary>
    public TemperatureTrace TraceOf(Batch batch, Interval when) => SpotTemperature.Of(Probes(StaysWith(batch), when));

    /// <summary>The same thinned for a chart.</summary>
    public ThinnedTrace ThinnedOf(Batch batch, Interval when, int parts) =>
        SpotTemperature.Thinned(Probes(StaysWith(batch), when), when, parts);

    private IEnumerable<(ProbeId Probe, Interval When)> StaysOn(SpotId spot) =>
        Ledger.Stations.Where(station => station.Spot == spot).Select(station => (station.Probe, station.When));

    private IEnumerable<(ProbeId Probe, Interval When)> StaysWith(Batch batch)
    {
        var stations = Ledger.Stations;
        return
            from stay in batch.Stays
            from station in stations
            where station.Spot == stay.Spot
            let both = Both(stay.When, station.When)
            where both is not null
            select (station.Probe, both.Value);
    }

    private IEnumerable<SpotProbe> Probes(IEnumerable<(ProbeId Probe, Interval When)> stays, Interval when)
    {
        var probes = Ledger.Probes.ToDictionary(entry => entry.Probe.Id, entry => entry.Probe);
        var offsets = Ledger.Calibrations.ToLookup(calibration => calibration.Probe,
            calibration => new OffsetStep(calibration.From, calibration.Offset));
        return stays
            .GroupBy(stay => stay.Probe, stay => stay.When)
            .Select(own => new SpotProbe(
                probes.GetValueOrDefault(own.Key) ?? new Probe(own.Key, Measurand.Air, Probe.DefaultMaxGap),
                [.. own],
                Once(own.Count(), Ledger.Readings.Temperatures(own.Key, when)),
                [.. offsets[own.Key]]));
    }

    // Read for each stay again, a probe that came and went would be read again and again; a year in one stay need not be held twice.
    private static IEnumerable<TemperatureSample> Once(int stays, IEnumerable<TemperatureSample> samples) =>
        stays == 1 ? samples : [.. samples];

    private static Interval? Both(Interval one, Interval other)
    {
        var start = Instant.Max(one.HasStart ? one.Start : Instant.MinValue, other.HasStart ? other.Start : Instant.MinValue);
        var end = Instant.Min(one.HasEnd ? one.End : Instant.MaxValue, other.HasEnd ? other.End : Instant.MaxValue);
        return start < end ? new(start, end == Instant.MaxValue ? null : end) : null;
    }

    /// <summary>Every spot with the survey of its last days.</summary>
    public IEnumerable<SurveyedSpot> Surveys(Instant now) => Spots().Select(spot => new SurveyedSpot(spot, Survey(spot.Id, now)));

    /// <summary>The survey of a spot's last days.</summary>
    public Survey Survey(SpotId spot, Instant when) =>
        when == now ? surveys.GetOrAdd(spot, id => SurveyOf(id, when)) : SurveyOf(spot, when);

    private Survey SurveyOf(SpotId spot, Instant when) =>
        Core.Spots.Survey.Of(Trace(spot, SurveyWindow(when)), zone, IsStale(spot), when.InZone(zone).Date);

    private bool IsStale(SpotId spot) => Ledger.OpenAlerts.Any(alert =>
        alert.Kind == AlertKind.SurveyStale && alert.Subject == AlertSubject.Of(spot));

    /// <summary>The same draws for every question, so that the same readings give the same intervals.</summary>
    public static Random FixedRandom() => new(1954);

    /// <summary>The probes that stand on a spot now.</summary>
    public IReadOnlyList<ProbeId> ProbesOn(SpotId spot) =>
        [.. Ledger.Stations.Where(station => station.Spot == spot && !station.When.HasEnd).Select(station => station.Probe)];

    /// <summary>The batches that stand on a spot now.</summary>
    public IReadOnlyList<BatchId> BatchesOn(SpotId spot) =>
        [.. Ledger.OpenBatches.Where(batch => batch.Stays is [.., { When.HasEnd: false } stay] && stay.Spot == spot)
            .Select(batch => batch.Id)];

    /// <summary>The newest temperature of the probes on a spot, media before air as in its trace; null when none has spoken.</summary>
    public Temperature? LastOn(SpotId spot) => LastOnSpot.Of(Ledger.Parts, spot, Ledger.Readings.Latest(Now))?.Value;

    /// <summary>The time that a survey rests on.</summary>
    public static Interval SurveyWindow(Instant now) => new(now - SurveyLength, now);

    /// <summary>Everything that the watch needs to know.</summary>
    /// <param name="endedAfter">Batches that ended before are left out; null for none left out, as the words of old alerts need.</param>
    public HomeFacts Facts(Instant? endedAfter = null) => HomeFacts.Of(Ledger.Parts, Catalog.Find, endedAfter) with
    {
        Zone = zone,
        Outages = [.. AtHand.Of(records.OutagesAsync()).Select(outage => new Outage(outage.When, outage.Cause))],
        DiagnosisOf = DiagnosisOf,
    };

    /// <summary>The diagnosis of a batch under way at the moment that this reader was made for; null where nothing can be said.</summary>
    public BatchDiagnosis? DiagnosisOf(BatchId id) =>
        Ledger.OpenBatches.FirstOrDefault(batch => batch.Id == id) is { } batch ? AtNow.Diagnoses.Of(batch).Diagnosis : null;
}
