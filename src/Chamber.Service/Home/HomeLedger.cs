using System.Collections.Concurrent;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What a request loads of a home: what the facts come to, the alerts that hold, and the readings that it asks for, each once. Any
/// thread may ask.</summary>
internal sealed class HomeLedger
{
    private readonly IHomeRecords records;
    private readonly long written;
    private readonly Lazy<HomeState> home;
    private readonly Lazy<IReadOnlyList<Spot>> spots;
    private readonly Lazy<IReadOnlyList<ProbeEntry>> probes;
    private readonly Lazy<IReadOnlyList<Station>> stations;
    private readonly Lazy<IReadOnlyList<Calibration>> calibrations;
    private readonly Lazy<IReadOnlyList<SetAside>> setAside;
    private readonly Lazy<IReadOnlyList<Batch>> batches;
    private readonly Lazy<IReadOnlyList<Batch>> open;
    private readonly Lazy<IReadOnlyList<Lot>> lots;
    private readonly Lazy<ILookup<LotId, LotTest>> tests;
    private readonly Lazy<IReadOnlyList<AlertEntry>> alerts;
    private readonly Lazy<HomeReadings> readings;
    private readonly ConcurrentDictionary<Instant, IReadOnlyList<AlertEntry>> past = new();

    public HomeLedger(IHomeStore store, IHomeRecords records)
    {
        this.records = records;

        // The count first: what is written meanwhile is then read again.
        written = records.Written;
        home = Once(() => AtHand.Of(store.HomeAsync()).Home);
        spots = Once(() => home.Value.Spots);
        probes = Once(() => home.Value.Probes);
        stations = Once(() => home.Value.Stations);
        calibrations = Once(() => home.Value.Calibrations);
        setAside = Once(() => home.Value.SetAside);
        batches = Once(() => home.Value.Batches);
        open = Once<IReadOnlyList<Batch>>(() => [.. Batches.Where(batch => batch.EndedAt is null)]);
        lots = Once(() => home.Value.Lots);
        tests = Once(() => home.Value.Tests.ToLookup(test => test.Lot));
        alerts = Once(() => AtHand.Of(records.AlertsAsync(null)));
        readings = Once<HomeReadings>(() => new(store, SetAside));
    }

    /// <summary>Whether nothing but readings was written through the store since.</summary>
    public bool IsCurrent => records.Written == written;

    public IReadOnlyList<Spot> Spots => spots.Value;

    public IReadOnlyList<ProbeEntry> Probes => probes.Value;

    public IReadOnlyList<Station> Stations => stations.Value;

    public IReadOnlyList<Calibration> Calibrations => calibrations.Value;

    /// <summary>Readings that are not to be used, in order of time.</summary>
    public IReadOnlyList<SetAside> SetAside => setAside.Value;

    /// <summary>Every batch, in order of sowing.</summary>
    public IReadOnlyList<Batch> Batches => batches.Value;

    /// <summary>Those that have not ended.</summary>
    public IReadOnlyList<Batch> OpenBatches => open.Value;

    public IReadOnlyList<Lot> Lots => lots.Value;

    /// <summary>Crops of one's own, each as JSON, by name.</summary>
    public IReadOnlyList<(CropId Crop, string Json)> Crops => home.Value.Crops;

    /// <summary>What was chosen for the home, by name.</summary>
    public IReadOnlyDictionary<string, string> Settings => home.Value.Settings;

    /// <summary>Times in which somebody works on a spot or the home, in order of their start.</summary>
    public IReadOnlyList<Work> Work => home.Value.Work;

    /// <summary>Null when there is none with this name.</summary>
    public Lot? Lot(LotId id) => home.Value.Lot(id);

    /// <summary>Null when there is none with this name.</summary>
    public Batch? Batch(BatchId id) => home.Value.Batch(id);

    /// <summary>Null when none of this name was set up.</summary>
    public ProbeEntry? Probe(ProbeId id) => home.Value.Probe(id);

    /// <summary>How people see spots, probes and batches.</summary>
    public ShownNames Names => ShownNames.Of(Settings);

    /// <summary>Alerts that hold.</summary>
    public IReadOnlyList<AlertEntry> OpenAlerts => alerts.Value;

    /// <summary>Those, and alerts that were closed at a time or later, in the order in which they were opened.</summary>
    public IReadOnlyList<AlertEntry> AlertsSince(Instant closed) =>
        past.GetOrAdd(closed, since => AtHand.Of(records.AlertsAsync(since)));

    /// <summary>Every test, in order of time.</summary>
    public IReadOnlyList<LotTest> AllTests => home.Value.Tests;

    /// <summary>The tests of a lot, in order of time.</summary>
    public IReadOnlyList<LotTest> Tests(LotId lot) => [.. tests.Value[lot]];

    /// <summary>What the probes said.</summary>
    public HomeReadings Readings => readings.Value;

    /// <summary>Notes about batches and spots, in order of time.</summary>
    public IReadOnlyList<Note> Notes => home.Value.Notes;

    /// <summary>Limits of alerts that somebody has chosen for one batch or spot.</summary>
    public IReadOnlyList<OwnLimits> Limits => home.Value.Limits;

    /// <summary>What the watch needs of all this.</summary>
    public HomeParts Parts => new()
    {
        Spots = Spots,
        Probes = Probes,
        Stations = Stations,
        Calibrations = Calibrations,
        SetAside = SetAside,
        Lots = Lots,
        Batches = Batches,
        Limits = Limits,
        Work = Work,
        Settings = Settings,
    };

    // A file that could not be read just now may be readable the next time.
    private static Lazy<T> Once<T>(Func<T> read) => new(read, LazyThreadSafetyMode.PublicationOnly);
}
