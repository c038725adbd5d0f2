using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;

namespace Chamber.Core.Cautions;

/// <summary>What is sown, as far as cautions ask.</summary>
/// <param name="Crop">The crop; null when the catalog no longer has it.</param>
/// <param name="Method">How.</param>
/// <param name="IsTreated">Whether the lot is treated.</param>
/// <param name="Spot">Where it goes; null while nobody has chosen.</param>
public sealed record SowingAct(Crop? Crop, SowingMethod Method, bool IsTreated, Spot? Spot)
{
    /// <summary>Whether it is a germination test.</summary>
    public bool IsTest { get; init; }

    /// <summary>What somebody did to the seed before, or null.</summary>
    public string? Treatment { get; init; }
}

/// <summary>Which cautions belong to which act. What alerts show is said beside them.</summary>
public static class CautionRules
{
    /// <summary>What a spot of this kind is about, first its own caution, then what goes with it. Never empty.</summary>
    public static IReadOnlyList<Caution> Of(SpotKind kind) => kind switch
    {
        SpotKind.HeatMat => [CautionBook.HeatMat, CautionBook.WaterAndMains, CautionBook.ExtensionLeads, CautionBook.Unattended],
        SpotKind.BoilerCupboard =>
            [CautionBook.BoilerCupboard, CautionBook.Gas, CautionBook.HotPipes, CautionBook.Scalds, CautionBook.WaterAndMains],
        SpotKind.Cupboard => [CautionBook.HotPipes, CautionBook.Scalds, CautionBook.WaterAndMains],
        SpotKind.ApplianceTop => [CautionBook.ApplianceTop, CautionBook.WaterAndMains, CautionBook.HighPlaces],
        SpotKind.Electronics => [CautionBook.Electronics, CautionBook.WaterAndMains, CautionBook.ExtensionLeads, CautionBook.Unattended],
        SpotKind.AquariumSide => [CautionBook.AquariumSide, CautionBook.WaterAndMains, CautionBook.ExtensionLeads, CautionBook.Unattended],
        SpotKind.Radiator => [CautionBook.Radiator, CautionBook.Scalds],
        SpotKind.Sill => [CautionBook.Sill],
        SpotKind.Refrigerator => [CautionBook.Refrigerator],
        SpotKind.Shelf => [CautionBook.HighPlaces, CautionBook.Lamps, CautionBook.WaterAndMains, CautionBook.ExtensionLeads],
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "No such kind of spot."),
    };

    /// <summary>When a spot is set up: all that it is about, in full.</summary>
    public static IReadOnlyList<ShownCaution> SettingUp(SpotKind kind, LightLevel light)
    {
        // A bright spot that is no sill has its light from a lamp.
        Caution[] lamps = light == LightLevel.Bright && kind != SpotKind.Sill ? [CautionBook.Lamps, CautionBook.ExtensionLeads] : [];
        return [.. Of(kind).Union(lamps).Select(ShownCaution.Whole), ShownCaution.Line(CautionBook.ChildrenAndPets)];
    }

    /// <summary>Wherever a spot is named again: its own caution in one line.</summary>
    public static ShownCaution Repeated(SpotKind kind) => ShownCaution.Line(Of(kind)[0]);

    /// <summary>When seed is sown or laid out for a test: what can hurt in full, the rest in one line each.</summary>
    public static IReadOnlyList<ShownCaution> Sowing(SowingAct act)
    {
        ArgumentNullException.ThrowIfNull(act);
        return [.. InFull(act).Select(ShownCaution.Whole), .. InOneLine(act).Select(ShownCaution.Line)];
    }

    /// <summary>When a lot is recorded or asked about.</summary>
    /// <param name="lot">The lot.</param>
    /// <param name="crop">Its crop; null when the catalog no longer has it.</param>
    public static IReadOnlyList<ShownCaution> Of(Lot lot, Crop? crop)
    {
        ArgumentNullException.ThrowIfNull(lot);
        IEnumerable<Caution> cautions =
        [
            .. lot.Treated ? [CautionBook.TreatedSeed] : Array.Empty<Caution>(),
            .. crop is null ? [] : PoisonCaution.Of(crop),
            .. lot.Origin == SeedOrigin.Saved ? [CautionBook.DryingSeed] : Array.Empty<Caution>(),
            .. lot.Storage == SeedStorage.FreezerSealed ? [CautionBook.FreezingSeed] : Array.Empty<Caution>(),
        ];
        return [.. cautions.Select(ShownCaution.Whole)];
    }

    /// <summary>Whether a note speaks of mould.</summary>
    public static bool SpeaksOfMould(string? note) =>
        note is not null
            && (note.Contains("mould", StringComparison.OrdinalIgnoreCase) || note.Contains("mold", StringComparison.OrdinalIgnoreCase));

    /// <summary>Whether mould was ever recorded of a batch.</summary>
    public static bool HasMould(Batch batch)
    {
        ArgumentNullException.ThrowIfNull(batch);
        return batch.Looks.Any(look => SpeaksOfMould(look.Note))
            || batch.Stages.Any(stage => SpeaksOfMould(stage.Note))
            || batch.Losses.Any(loss => loss.Cause == LossCause.Mould || SpeaksOfMould(loss.Note));
    }

    private static IEnumerable<Caution> InFull(SowingAct act)
    {
        if (act.IsTreated)
        {
            yield return CautionBook.TreatedSeed;
        }

        if (act.Crop is { } crop)
        {
            foreach (var poison in PoisonCaution.Grave(crop))
            {
                yield return poison;
            }

            if (!act.IsTreated && SowingAdvice.WantsBlade(crop))
            {
                yield return CautionBook.HardSeed;
            }
        }

        if (act.Spot is { } spot)
        {
            yield return Of(spot.Kind)[0];
        }
    }

    private static IEnumerable<Caution> InOneLine(SowingAct act)
    {
        if (act.Treatment is not null || (!act.IsTreated && act.Crop is { } crop && SowingAdvice.Pretreatment(crop) is not null))
        {
            yield return CautionBook.NotCovered;
        }

        foreach (var poison in act.Crop is null ? [] : PoisonCaution.Of(act.Crop).Except(PoisonCaution.Grave(act.Crop)))
        {
            yield return poison;
        }

        yield return act.Method == SowingMethod.DampTowel || act.IsTest ? CautionBook.PlantingSeed : CautionBook.DustyMix;
        yield return CautionBook.ChildrenAndPets;
    }
}
