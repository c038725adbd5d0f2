using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Facts.Batches;

/// <summary>Seed was sown: wetted and placed.</summary>
/// <param name="Batch">The name of the batch.</param>
/// <param name="Crop">What was sown.</param>
/// <param name="Method">How.</param>
/// <param name="Seeds">How many seeds, at least 1.</param>
/// <param name="Lot">The lot the seeds came from, where that is known.</param>
/// <param name="Spot">Where it stands from then on, where that is known.</param>
/// <param name="Containers">How many containers it fills, at least 1.</param>
/// <param name="IsTest">Whether it was sown to test its lot.</param>
/// <param name="Treatment">What was done to the seed before, or null.</param>
/// <param name="DepthMillimetres">Mix above the seed, mm; null for the crop's usual depth.</param>
public sealed record BatchSown(
    BatchId Batch,
    CropId Crop,
    SowingMethod Method,
    int Seeds,
    LotId? Lot = null,
    SpotId? Spot = null,
    int Containers = 1,
    bool IsTest = false,
    string? Treatment = null,
    double? DepthMillimetres = null) : Fact
{
    public override IReadOnlyList<FactSubject> About()
    {
        List<FactSubject> about = [FactSubject.Of(Batch)];
        if (Lot is { } lot)
        {
            about.Add(FactSubject.Of(lot));
        }

        if (Spot is { } spot)
        {
            about.Add(FactSubject.Of(spot));
        }

        return about;
    }

    public override string Words(ShownNames names) =>
        FactWords.Line(
            $"{FactWords.Count(Seeds, "seed")} of {Crop} sown as {names.Of(Batch)}", FactWords.Word(Method),
            Spot is { } spot ? $"on {names.Of(spot)}" : null,
            Treatment);

    internal override void Apply(HomeFold home, Instant at)
    {
        FactRefusedException.When(home.Batches.ContainsKey(Batch), $"There is a batch \"{Batch}\" already; take another name.", "name");
        var batch = new Batch(Batch, Crop, Lot, Method, at, Seeds, [], []) { Containers = Containers, IsTest = IsTest,
            Treatment = Treatment, DepthMillimetres = DepthMillimetres };
        FactRefusedException.When(WithinBounds.WhyNot(batch));
        if (Lot is { } lot)
        {
            BatchRules.RequireLot(batch, lot, home.Require(lot).Crop);
        }

        if (Spot is { } spot)
        {
            home.Require(spot);
            batch = BatchStays.Placed(batch, new(spot, new(at, null)));
        }

        home.Batches[Batch] = batch;
    }
}
