using Chamber.Core.Crops;

namespace Chamber.Core.Cautions;

/// <summary>The cautions about a crop whose seed or leaf can hurt, made from the catalog's data.</summary>
public static class PoisonCaution
{
    /// <summary>For each thing known of it; for a crop of the user's own of which nobody has said, the question.</summary>
    public static IEnumerable<Caution> Of(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return crop.Hazards.Select(hazard => Of(crop, hazard)).Concat(crop.HazardUnknown ? [CautionBook.PoisonUnknown] : []);
    }

    /// <summary>Those among them that a child could be hurt by: they are shown in full at a sowing, the others in one line.</summary>
    public static IEnumerable<Caution> Grave(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return Of(crop with { Hazards = [.. crop.Hazards.Where(hazard => hazard.Concerns == HazardConcerns.People)] });
    }

    private static Caution Of(Crop crop, CropHazard hazard)
    {
        var line = $"{char.ToUpperInvariant(crop.CommonName[0])}{crop.CommonName[1..]}: {hazard.Words}.";
        return new(
            $"crop-{crop.Id}",
            line,
            string.Join(' ', new[] { line, hazard.Advice, WhatToDo(hazard.Concerns) }.Where(part => part.Length > 0)),
            CautionMoments.Sowing | CautionMoments.KeepingSeed,
            $"for {crop.CommonName}")
        {
            Source = hazard.Source,
        };
    }

    private static string WhatToDo(HazardConcerns concerns) => concerns switch
    {
        HazardConcerns.Skin => "Wear gloves and long sleeves, and wash the sap off before you go into the sun.",
        HazardConcerns.Pets => "Keep it from pets, and call the vet at once if one has eaten it.",
        _ => "Keep it from children and pets, and call your poison information line or the vet at once if any was swallowed.",
    };
}
