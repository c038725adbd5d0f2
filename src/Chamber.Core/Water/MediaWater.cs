using Chamber.Core.Crops;
using Chamber.Core.Statistics;

namespace Chamber.Core.Water;

/// <summary>
/// What the percent of a calibrated media probe says of water. It is the share of the probe's own way from dry to saturated media, taken
/// for how full the media is; water is then held the harder the less full it is, by a power (G.S. Campbell, Soil Sci. 117 (1974) 311-314).
/// Both numbers of the power, and the doubt, are assumptions for potting mix: nothing published was found that a home could use.
/// </summary>
public static class MediaWater
{
    /// <summary>Of saturated media, MPa.</summary>
    private const double Saturated = -0.001;

    /// <summary>So that mix at a quarter of its saturated reading is as dry as what feels dry, -1.5 MPa.</summary>
    private const double Power = 5.275;

    /// <summary>Towels are dry at half of their saturated reading, where mix is at three tenths; the watch warns there.</summary>
    private const double TowelFullness = 0.6;

    /// <summary>How far a probe's percent may be off, of saturation: standard deviation. From memory: cheap capacitive probes are off by
    /// 0.07 to 0.09 m³/m³ (A.A.P. Nagahage and others, 2019), of which saturated mix holds about 0.8.</summary>
    private const double PercentDeviation = 10;

    /// <summary>No base of any crop is believed to lie nearer to free water than this, MPa: an assumption, so that a wide doubt does not
    /// reach it.</summary>
    private const double HighestBase = -0.1;

    private const int Quantiles = 15;

    private static readonly double[] Deviates =
        [.. Enumerable.Range(0, Quantiles).Select(i => StandardNormal.Quantile((i + 0.5) / Quantiles))];

    /// <summary>Water potential, MPa, below 0.</summary>
    /// <param name="percent">Of the saturated reading, above 0.</param>
    /// <param name="isTowel">Whether it is a towel; otherwise mix.</param>
    public static double PotentialOf(double percent, bool isTowel) =>
        Saturated * Math.Pow(Math.Clamp(percent / 100 * (isTowel ? TowelFullness : 1), 0.01, 1), -Power);

    /// <summary>How fast the middle seed goes on, as a share of its pace in free water: the mean over what the percent and the crop's base
    /// may be off. 0 to 1.</summary>
    /// <param name="percent">Of the saturated reading, above 0.</param>
    /// <param name="isTowel">Whether it is a towel; otherwise mix.</param>
    /// <param name="water">The crop's base water potential.</param>
    public static double Pace(double percent, bool isTowel, BaseWater water)
    {
        ArgumentNullException.ThrowIfNull(water);
        var sum = 0.0;
        foreach (var off in Deviates)
        {
            var potential = PotentialOf(percent + PercentDeviation * off, isTowel);
            sum += Deviates.Average(other => Hydrothermal.Pace(
                potential, Math.Min(HighestBase, water.Megapascals + water.Deviation * other)));
        }

        return sum / Quantiles;
    }
}
