using System.Text.RegularExpressions;

namespace Chamber.Core.Crops;

/// <summary>What to know of a crop before its seed is wetted, from the notes of the catalog (common practice where those name no
/// source).</summary>
public static partial class SowingAdvice
{
    /// <summary>What is said of a treated lot that goes, or lies, on a towel.</summary>
    public const string TreatedOnTowel = "Treated seed does not go on a towel that hands touch: sow it in mix, with gloves.";

    /// <summary>What is done with the seed beforehand; null when nothing is, or nothing is known.</summary>
    public static string? Pretreatment(Crop crop) =>
        crop.Guide?.Pretreatment is { Length: > 0 } before && !before.StartsWith("none", StringComparison.Ordinal) ? before : null;

    /// <summary>Whether its seed is nicked, filed or crushed before sowing.</summary>
    public static bool WantsBlade(Crop crop) => Pretreatment(crop) is { } before && Blade().IsMatch(before);

    /// <summary>Whether what is done beforehand puts seed into water or a hand on its coat, which a treated lot must not have.</summary>
    public static bool HandlesSeed(Crop crop) => Pretreatment(crop) is { } before && Handling().IsMatch(before);

    /// <summary>Sentences for somebody about to sow.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="method">How it is sown.</param>
    /// <param name="isTreated">Whether the lot is treated: then nothing is advised that takes bare hands or water to the seed.</param>
    public static IEnumerable<string> For(Crop crop, SowingMethod method, bool isTreated)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return Before(crop, isTreated).Concat(OfMethod(crop, method, isTreated));
    }

    private static IEnumerable<string> Before(Crop crop, bool isTreated)
    {
        if (Pretreatment(crop) is not { } before)
        {
            yield break;
        }

        if (isTreated && HandlesSeed(crop))
        {
            yield return "The lot is treated: sow it as it is, with nothing done to the seed beforehand.";
            yield break;
        }

        yield return before.Contains("soak", StringComparison.Ordinal) && !before.Contains("no long soak", StringComparison.Ordinal)
            ? $"Before sowing: {before}. Count from wetting, and leave no seed in water any longer: it rots."
            : $"Before sowing: {before}.";
    }

    private static IEnumerable<string> OfMethod(Crop crop, SowingMethod method, bool isTreated)
    {
        if (method == SowingMethod.DampTowel && isTreated)
        {
            yield return TreatedOnTowel;
        }

        if (crop.Guide is not { } guide)
        {
            yield break;
        }

        if (method == SowingMethod.DampTowel && guide.Towel is TowelSuitability.Poor or TowelSuitability.No)
        {
            yield return $"A towel suits it badly{(guide.TowelNote.Length > 0 ? $" ({guide.TowelNote})" : string.Empty)}: a box "
                + $"of mix is safer.";
        }

        if (method != SowingMethod.DampTowel && guide.Transplants.StartsWith("poor", StringComparison.Ordinal))
        {
            yield return "It does not like to be moved: give each plant its own pot from the start.";
        }
        else if (guide.Transplants == "no")
        {
            yield return "It is better sown where it will grow.";
        }
    }

    [GeneratedRegex("nick|file|crush|scarif")]
    private static partial Regex Blade();

    [GeneratedRegex("soak|nick|file|crush|scarif")]
    private static partial Regex Handling();
}
