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
    /// <summary>
    /// The middle base water potential, MPa. Of onion 'Sepidan' and 'Zargan' hydrothermal constants of 1249.8 and 1122.8 MPa·°C·h over
    /// thermal constants of 1602.8 and 1521.4 °C·h in free water come to -0.78 and -0.74 (abstract of "Onion (Allium cepa L.) seed
    /// germination affected by temperature and water potential: hydrothermal time model"). Nothing was found of other crops: it is taken
    /// for all.
    /// </summary>
    public const double MedianBase = -0.76;

    /// <summary>The standard deviation of ψb, MPa: in free water ln θ then spreads by about the crop's own σ.</summary>
    public static double BaseDeviation(GerminationProfile profile)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return profile.Spread * -MedianBase;
    }

    /// <summary>How fast the middle seed goes on at a water potential, as a share of its pace in free water; 0 to 1.</summary>
    /// <param name="megapascals">ψ, MPa, 0 or less.</param>
    public static double Pace(double megapascals) => Pace(megapascals, MedianBase);

    /// <summary>The same for another middle base, MPa, below 0.</summary>
    internal static double Pace(double megapascals, double medianBase) => Math.Clamp((megapascals - medianBase) / -medianBase, 0, 1);

    /// <summary>The share of sound seed whose base lies below a water potential, beside that in free water; 0 to 1.</summary>
    /// <param name="profile">The crop's profile.</param>
    /// <param name="megapascals">ψ, MPa, 0 or less.</param>
    public static double Share(GerminationProfile profile, double megapascals)
    {
        var deviation = BaseDeviation(profile);
        return Math.Min(1, StandardNormal.Cdf((megapascals - MedianBase) / deviation) / StandardNormal.Cdf(-MedianBase / deviation));
    }
}
