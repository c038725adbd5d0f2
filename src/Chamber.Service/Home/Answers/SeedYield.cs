using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Service.Home.Answers;

/// <summary>What the seeds that there are will give.</summary>
/// <param name="Seeds">How many are sown.</param>
/// <param name="Low">Plants, the low end of an 80 % interval.</param>
/// <param name="Mid">The number that is reached as often as not.</param>
/// <param name="High">The high end.</param>
/// <param name="Germination">The share that comes up.</param>
/// <param name="Survival">Of those up, the share that lives to be planted out.</param>
/// <param name="Lot">The lot; null where a share was told.</param>
/// <param name="Left">How many seeds of it are left.</param>
internal sealed record SeedYield(int Seeds, int Low, int Mid, int High, ShareInterval Germination, double Survival, LotId? Lot, int? Left)
{
    public static SeedYield Of(int seeds, LotState? lot, double? germination, double survival)
    {
        var plants = lot is not null ? PlantCount.Of(seeds, lot.Belief.Share, survival)
            : PlantCount.Of(seeds, germination!.Value * survival);
        return new(seeds, plants.Low, plants.Mid, plants.High,
            lot?.Belief.Share.Interval() ?? new(germination!.Value, germination.Value, germination.Value), survival, lot?.Lot.Id,
            lot?.SeedsLeft);
    }
}
