using System.Globalization;
using Chamber.Core.Crops;

namespace Chamber.Core.Seeds;

/// <summary>What to bear in mind about a lot so that the seed keeps and comes true. What can hurt somebody is a caution.</summary>
public static class LotRemarks
{
    /// <summary>Seed whose half-life at room temperature is no longer is said to age fast.</summary>
    private const double ShortHalfYears = 5;

    /// <summary>Remarks on a lot; empty when there are none.</summary>
    /// <param name="lot">The lot.</param>
    /// <param name="crop">Its crop; null when the catalog no longer has it.</param>
    public static IEnumerable<string> For(Lot lot, Crop? crop)
    {
        ArgumentNullException.ThrowIfNull(lot);
        if (lot is { Origin: SeedOrigin.Saved, Parent: null })
        {
            yield return "Seed saved from a hybrid (F1) does not come true; record the parent lot so that you know.";
        }

        if (lot.Storage is SeedStorage.Warm or SeedStorage.Damp)
        {
            yield return "Seed kept warm or damp ages fast: move the lot to a cool, dry place; °F and percent humidity together should "
                + "stay under 100.";
        }

        if (crop is not null && SeedLongevity.Of(crop) is { HalfYears: <= ShortHalfYears } longevity)
        {
            yield return string.Create(CultureInfo.InvariantCulture,
                $"Seed of {crop.CommonName} ages fast: in a room half of it is dead after about {longevity.HalfYears:0} years. Sow it "
                + $"young, or test some.");
        }
    }
}
