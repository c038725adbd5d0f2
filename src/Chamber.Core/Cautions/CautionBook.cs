namespace Chamber.Core.Cautions;

/// <summary>
/// The catalogue of cautions, and the only file with their words. Common practice where no source is named; they defer to makers,
/// local codes and qualified people, and say nothing of what those alone decide.
/// </summary>
public static partial class CautionBook
{
    /// <summary>Every caution with its own words; those about a crop's poison are made from its data
    /// (<see cref="PoisonCaution"/>).</summary>
    public static IReadOnlyList<Caution> All =>
    [
        HeatMat, BoilerCupboard, ApplianceTop, Electronics, AquariumSide, Radiator, Sill, Refrigerator, HighPlaces, HotPipes,
        WaterAndMains, ExtensionLeads, Lamps, Scalds, Unattended, Gas, Fire, PowerCut, Batteries, IceBath,
        TreatedSeed, PoisonUnknown, PlantingSeed, HardSeed, NotCovered, DryingSeed, FreezingSeed, DustyMix, ChildrenAndPets, Mould,
    ];

    /// <summary>The caution of this name, or null.</summary>
    public static Caution? Find(string name) => All.FirstOrDefault(caution => caution.Name == name);
}
