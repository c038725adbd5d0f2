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

    /// <summary>Where the mix wilts most plants it holds so much of what it holds when saturated. From memory, for peat.</summary>
    private const double WiltingPercent = 25;

    /// <summary>A saturated mix lets go of its first water at about a kilopascal. From memory, for peat.</summary>
    private const double AirEntry = -0.001;

    /// <summary>
    /// Of media with a calibrated probe, by a power of how full it is (G.S. Campbell, Soil Sci. 117 (1974) 311-314): from a kilopascal
    /// when it is saturated to -1.5 MPa at a quarter of that. Assumptions for any mix; a probe's own scale is no water content, so this
    /// is rough.
    /// </summary>
    /// <param name="percent">Between the probe's dry (0) and saturated (100) readings.</param>
    public static double OfPercent(double percent)
    {
        var exponent = Math.Log(Dry / AirEntry) / Math.Log(100 / WiltingPercent);
        return Math.Max(10 * Dry, AirEntry * Math.Pow(Math.Clamp(percent, 1, 100) / 100, -exponent));
    }

    /// <summary>What somebody who felt it says of it.</summary>
    public static double Of(LookMoisture moisture) => moisture switch
    {
        LookMoisture.Dry => Dry,
        LookMoisture.Moist => Moist,
        _ => Wet,
    };
}
