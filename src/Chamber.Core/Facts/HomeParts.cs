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
}
