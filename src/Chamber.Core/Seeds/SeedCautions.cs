using System.Globalization;
using Chamber.Core.Crops;

namespace Chamber.Core.Seeds;

/// <summary>The usual cautions about a lot. Local rules, and the label, come first.</summary>
public static class SeedCautions
{
    /// <summary>Treated seed: Minnesota Dept. of Agriculture, "Treated Seed"; the label says the same.</summary>
    public const string Treated =
        "Treated seed: not for food, feed or oil. Wear gloves, wash your hands, keep it from children and pets, lay none on a towel with bare hands, eat no sprout of it, and follow its label.";

    /// <summary>Drying and freezing: Colorado State Univ. Extension, "Long Term Storage of Vegetable Seed", 1997.</summary>
    public const string Drying =
        "Dry saved seed to under 8 % moisture before it is sealed: thin layers at no more than 38 °C (100 °F), never in a microwave or a hot oven; a dry bean shatters, a damp one dents.";

    public const string Freezing =
        "Freeze only dry, sealed seed: damp seed is killed by frost. Let the sealed jar come to room temperature before you open it.";

    /// <summary>Seed whose half-life at room temperature is no longer is said to age fast.</summary>
    private const double ShortHalfYears = 5;

    /// <summary>Cautions for a lot of a crop; empty when there are none.</summary>
    public static IEnumerable<string> For(Lot lot, Crop? crop)
    {
        ArgumentNullException.ThrowIfNull(lot);
        if (lot.Treated)
        {
            yield return Treated;
        }

        if (lot.Origin == SeedOrigin.Saved)
        {
            yield return Drying;
            if (lot.Parent is null)
            {
                yield return "Seed saved from a hybrid (F1) does not come true; write down the parent lot so that you know.";
            }
        }

        if (lot.Storage == StoragePlace.FreezerSealed)
        {
            yield return Freezing;
        }

        if (lot.Storage is StoragePlace.Warm or StoragePlace.Damp)
        {
            yield return "Warm or damp keeping uses seed up: move the lot to a cool dry place; °F and percent of humidity together should stay under 100.";
        }

        if (crop is not null && SeedLongevity.Of(crop) is { HalfYears: <= ShortHalfYears } longevity)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"Seed of {crop.CommonName} ages fast: in a room half of it is dead after about {longevity.HalfYears:0} years. Sow it young, or test some.");
        }
    }
}
