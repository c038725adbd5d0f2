using Chamber.Core.Batches;

namespace Chamber.Core.Water;

/// <summary>How hard water is held where seed lies, MPa: 0 in free water, the lower the drier.</summary>
public static class WaterPotential
{
    /// <summary>Mix or paper that is as damp as a wrung sponge: about pot capacity. From memory.</summary>
    public const double Moist = -0.05;

    /// <summary>
    /// Mix or paper that feels dry to a finger: drier than what wilts most plants, -1.5 MPa. Common practice, no source.
    /// </summary>
    public const double Dry = -1.5;

    /// <summary>Seed that stands in water.</summary>
    public const double Wet = 0;

    /// <summary>What somebody who felt it says of it.</summary>
    public static double Of(LookMoisture moisture) => moisture switch
    {
        LookMoisture.Dry => Dry,
        LookMoisture.Moist => Moist,
        _ => Wet,
    };
}
