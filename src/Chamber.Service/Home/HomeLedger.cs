using System.Collections.Concurrent;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Facts;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Storage;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What people have set up and recorded, each part read from the file once, when it is first asked for. Any thread may
/// ask.</summary>
internal sealed class HomeLedger(ChamberStore store)
{
    private readonly long written = store.LedgerCommits;
    private readonly Lazy<IReadOnlyList<Spot>> spots = Once(store.Ledger.SetUp.Spots);
    private readonly Lazy<IReadOnlyList<ProbeEntry>> probes = Once(store.Ledger.SetUp.Probes);
    private readonly Lazy<IReadOnlyList<Station>> stations = Once(store.Ledger.SetUp.Stations);
    private readonly Lazy<IReadOnlyList<Calibration>> calibrations = Once(store.Ledger.SetUp.Calibrations);
    private readonly Lazy<IReadOnlyList<SetAside>> setAside = Once(store.Ledger.SetUp.SetAside);
    private readonly Lazy<IReadOnlyList<Batch>> batches = Once(() => store.Ledger.Batches.All());
    private readonly Lazy<IReadOnlyList<Lot>> lots = Once(store.Ledger.Seeds.Lots);
    private readonly Lazy<IReadOnlyList<AlertEntry>> alerts = Once(store.Ledger.Alerts.Open);
    private readonly Lazy<IReadOnlyList<Note>> notes = Once(store.Ledger.Own.Notes);
    private readonly Lazy<IReadOnlyList<OwnLimits>> limits = Once(store.Ledger.Own.Limits);
    private readonly Lazy<IReadOnlyDictionary<string, string>> settings = Once(store.Ledger.Settings.All);
    private IReadOnlyList<Batch>? open;
    private readonly ConcurrentDictionary<LotId, IReadOnlyList<LotTest>> tests = new();

    /// <summary>Whether nothing was written to the ledger through this store since.</summary>
    public bool IsCurrent => store.LedgerCommits == written;

    public IReadOnlyList<Spot> Spots => spots.Value;

    public IReadOnlyList<ProbeEntry> Probes => probes.Value;

    public IReadOnlyList<Station> Stations => stations.Value;

    public IReadOnlyList<Calibration> Calibrations => calibrations.Value;

    /// <summary>Readings that are not to be used, in order of time.</summary>
    public IReadOnlyList<SetAside> SetAside => setAside.Value;

    /// <summary>Every batch, in order of sowing.</summary>
    public IReadOnlyList<Batch> Batches => batches.Value;

    /// <summary>Those that have not ended.</summary>
    public IReadOnlyList<Batch> OpenBatches => open ??= [.. Batches.Where(batch => batch.EndedAt is null)];

    public IReadOnlyList<Lot> Lots => lots.Value;

    /// <summary>Null when there is none with this name.</summary>
    public Lot? Lot(LotId id) => Lots.FirstOrDefault(lot => lot.Id == id);

    /// <summary>How people see spots, probes and batches.</summary>
    public ShownNames Names => ShownNames.Of(settings.Value);

    /// <summary>Alerts that hold.</summary>
    public IReadOnlyList<AlertEntry> OpenAlerts => alerts.Value;

    /// <summary>The tests of a lot.</summary>
    public IReadOnlyList<LotTest> Tests(LotId lot) => tests.GetOrAdd(lot, id => store.Ledger.Seeds.Tests(id));

    /// <summary>Notes about batches and spots, in order of time.</summary>
    public IReadOnlyList<Note> Notes => notes.Value;

    /// <summary>Limits of alerts that somebody has chosen for one batch or spot.</summary>
    public IReadOnlyList<OwnLimits> Limits => limits.Value;

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
        Settings = settings.Value,
        Work = [.. store.Ledger.Alerts.Maintenance(Instant.MinValue)
            .Select(work => new Work(work.Spot is { } spot ? new SpotId(spot) : null, work.When))],
    };

    // A file that could not be read just now may be readable the next time.
    private static Lazy<T> Once<T>(Func<T> read) => new(read, LazyThreadSafetyMode.PublicationOnly);
}
