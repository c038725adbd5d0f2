using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Facts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;

namespace Chamber.Service.Home;

/// <summary>All that is learned and forecast from but the readings. Equal when every part of it is, entry by entry.</summary>
internal sealed class LearningBasis : IEquatable<LearningBasis>
{
    private readonly CropCatalog catalog;
    private readonly SharedKnowledge? others;
    private readonly IReadOnlyList<Batch> batches;
    private readonly IReadOnlyList<Lot> lots;
    private readonly IReadOnlyList<LotTest> tests;
    private readonly IReadOnlyList<Spot> spots;
    private readonly IReadOnlyList<ProbeEntry> probes;
    private readonly IReadOnlyList<Station> stations;
    private readonly IReadOnlyList<Calibration> calibrations;
    private readonly IReadOnlyList<SetAside> setAside;

    private LearningBasis(HomeReader home)
    {
        var ledger = home.Ledger;
        (catalog, others, batches, lots) = (home.Catalog, home.Others, ledger.Batches, ledger.Lots);
        tests = [.. lots.SelectMany(lot => ledger.Tests(lot.Id))];
        (spots, probes, stations) = (ledger.Spots, ledger.Probes, ledger.Stations);
        (calibrations, setAside) = (ledger.Calibrations, ledger.SetAside);
    }

    public static LearningBasis Of(HomeReader home) => new(home);

    public bool Equals(LearningBasis? other) => other is not null
        && ReferenceEquals(catalog, other.catalog)
        && ReferenceEquals(others, other.others)
        && Same(batches, other.batches)
        && lots.SequenceEqual(other.lots)
        && tests.SequenceEqual(other.tests)
        && spots.SequenceEqual(other.spots)
        && probes.SequenceEqual(other.probes)
        && stations.SequenceEqual(other.stations)
        && calibrations.SequenceEqual(other.calibrations)
        && setAside.SequenceEqual(other.setAside);

    public override bool Equals(object? obj) => Equals(obj as LearningBasis);

    public override int GetHashCode() => HashCode.Combine(batches.Count, lots.Count, stations.Count);

    private static bool Same(IReadOnlyList<Batch> batches, IReadOnlyList<Batch> others) =>
        batches.Count == others.Count && batches.Zip(others).All(pair => SameBatch.Is(pair.First, pair.Second));
}
