using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Water;

/// <summary>
/// Hydrothermal time: a seed needs (ψ − ψb)(T − Tb) t = θHT, and seeds differ in the base water potential ψb under which they make no
/// progress, normally distributed (R.J. Gummerson, J. Exp. Bot. 37 (1986) 729-741; K.J. Bradford, Weed Sci. 50 (2002) 248-260). In free
/// water it is thermal time with θ = θHT / −ψb, so that one middle ψb and the crop's own spread say what dryness does.
/// </summary>
public static class Hydrothermal
{
    /// <summary>The standard deviation of ψb, MPa: in free water ln θ then spreads by about the crop's own σ.</summary>
    public static double BaseDeviation(Crop crop)
    {
        ArgumentNullException.ThrowIfNull(crop);
        return crop.Profile.Spread * -BaseWater.Of(crop).Megapascals;
    }

    /// <summary>How fast the middle seed goes on at a water potential, as a share of its pace in free water; 0 to 1.</summary>
    /// <param name="megapascals">ψ, MPa, 0 or less.</param>
    /// <param name="medianBase">The middle ψb, MPa, below 0.</param>
    public static double Pace(double megapascals, double medianBase) => Math.Clamp((megapascals - medianBase) / -medianBase, 0, 1);

    /// <summary>The share of sound seed whose base lies below a water potential, beside that in free water; 0 to 1.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="megapascals">ψ, MPa, 0 or less.</param>
    public static double Share(Crop crop, double megapascals)
    {
        var (median, deviation) = (BaseWater.Of(crop).Megapascals, BaseDeviation(crop));
        return Math.Min(1, StandardNormal.Cdf((megapascals - median) / deviation) / StandardNormal.Cdf(-median / deviation));
    }
}
