using Chamber.Core.Batches;

namespace Chamber.Core.Crops;

/// <summary>What to know of a crop before its seed is wetted, from the notes of the catalog (common practice where those name no source).</summary>
public static class SowingAdvice
{
    /// <summary>What is done with the seed beforehand; null when nothing is, or nothing is known.</summary>
    public static string? Pretreatment(Crop crop) =>
        crop.Guide?.Pretreatment is { Length: > 0 } before && !before.StartsWith("none", StringComparison.Ordinal) ? before : null;

    /// <summary>Sentences for somebody about to sow.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="method">How it is sown.</param>
    public static IEnumerable<string> For(Crop crop, SowingMethod method)
    {
        ArgumentNullException.ThrowIfNull(crop);
        if (Pretreatment(crop) is { } before)
        {
            yield return before.Contains("soak", StringComparison.Ordinal) && !before.Contains("no long soak", StringComparison.Ordinal)
                ? $"Before sowing: {before}. Count from the wetting, and leave no seed in water for longer: it rots."
                : $"Before sowing: {before}.";
        }

        if (crop.Guide is not { } guide)
        {
            yield break;
        }

        if (method == SowingMethod.DampTowel && guide.Towel is TowelSuitability.Poor or TowelSuitability.No)
        {
            yield return $"A towel suits it badly{(guide.TowelNote.Length > 0 ? $" ({guide.TowelNote})" : string.Empty)}: a box of mix is safer.";
        }

        if (method != SowingMethod.DampTowel && guide.Transplants.StartsWith("poor", StringComparison.Ordinal))
        {
            yield return "It takes badly to being moved: give each plant a pot of its own from the start.";
        }
        else if (guide.Transplants == "no")
        {
            yield return "It is better sown where it is to grow.";
        }
    }
}
