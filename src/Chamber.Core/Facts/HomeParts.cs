using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;

namespace Chamber.Core.Facts;

/// <summary>A home part by part, as a store keeps what the facts came to: see <see cref="HomeState"/> for what each is.</summary>
public sealed record HomeParts
{
    public IReadOnlyList<Spot> Spots { get; init; } = [];

    public IReadOnlyList<ProbeEntry> Probes { get; init; } = [];

    public IReadOnlyList<Station> Stations { get; init; } = [];

    public IReadOnlyList<Calibration> Calibrations { get; init; } = [];

    public IReadOnlyList<SetAside> SetAside { get; init; } = [];

    public IReadOnlyList<Lot> Lots { get; init; } = [];

    public IReadOnlyList<LotTest> Tests { get; init; } = [];

    public IReadOnlyList<Batch> Batches { get; init; } = [];

    public IReadOnlyList<(CropId Crop, string Json)> Crops { get; init; } = [];

    public IReadOnlyDictionary<string, string> Settings { get; init; } = new Dictionary<string, string>();

    public IReadOnlyList<Work> Work { get; init; } = [];

    public IReadOnlyList<Note> Notes { get; init; } = [];

    public IReadOnlyList<OwnLimits> Limits { get; init; } = [];

    /// <summary>What is other in two homes: the spots, probes, lots, batches and crops concerned, and the home for what was chosen for
    /// it.</summary>
    public IReadOnlyList<FactSubject> DifferencesFrom(HomeParts other)
    {
        ArgumentNullException.ThrowIfNull(other);
        HashSet<FactSubject> found =
        [
            .. Other(Spots, other.Spots, spot => FactSubject.Of(spot.Id)),
            .. Other(Probes, other.Probes, entry => FactSubject.Of(entry.Probe.Id)),
            .. Other(Stations, other.Stations, station => FactSubject.Of(station.Probe)),
            .. Other(Calibrations, other.Calibrations, calibration => FactSubject.Of(calibration.Probe)),
            .. Other(SetAside, other.SetAside, span => FactSubject.Of(span.Probe)),
            .. Other(Lots, other.Lots, lot => FactSubject.Of(lot.Id)),
            .. Other(Tests, other.Tests, test => FactSubject.Of(test.Lot)),
            .. Other(Crops, other.Crops, crop => FactSubject.Of(crop.Crop)),
            .. Other([.. Settings], [.. other.Settings], _ => FactSubject.Home),
            .. Other(Work, other.Work, work => work.Spot is { } spot ? FactSubject.Of(spot) : FactSubject.Home),
            .. Other(Notes, other.Notes, note => note.About),
            .. Other(Limits, other.Limits, own => own.About),
            .. Other(Batches, other.Batches),
        ];
        return [.. found.OrderBy(subject => subject.Kind).ThenBy(subject => subject.Name, StringComparer.Ordinal)];
    }

    private static IEnumerable<FactSubject> Other<T>(IReadOnlyList<T> some, IReadOnlyList<T> others, Func<T, FactSubject> aboutOf) =>
        some.Except(others).Concat(others.Except(some)).Select(aboutOf);

    private static IEnumerable<FactSubject> Other(IReadOnlyList<Batch> some, IReadOnlyList<Batch> others)
    {
        var (known, same) = (others.ToDictionary(batch => batch.Id), new HashSet<BatchId>());
        foreach (var batch in some)
        {
            if (known.TryGetValue(batch.Id, out var found) && SameBatch.Is(batch, found))
            {
                same.Add(batch.Id);
            }
        }

        return some.Concat(others).Select(batch => batch.Id).Where(id => !same.Contains(id)).Select(id => FactSubject.Of(id));
    }
}
