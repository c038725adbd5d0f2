using Chamber.Core.Crops;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Seeds;

/// <summary>
/// How the share of a lot that still comes up falls with age: normal deaths in time, a straight line in probits, v = Ki - t/σ.
/// R. H. Ellis and E. H. Roberts, "Improved equations for the prediction of seed longevity", Ann. Bot. 45 (1980) 13-30, equation 1.
/// σ comes from the half-life measured at room temperature (<see cref="SeedLongevity"/>) and from the store (<see cref="StorageRule"/>);
/// Ki from the share of fresh seed. Lots differ in both, so what is expected of a lot is a mean over them.
/// </summary>
public sealed class AgingCurve
{
    /// <summary>How far lots of one crop lie apart when fresh, in probits: of lots that average 95 %, nine in ten then lie above 86 %. An
    /// assumption.</summary>
    private const double FreshDeviation = 0.8;

    /// <summary>The same for a lot with a share stated on its packet, from one laboratory test of the lot, if an old one. An
    /// assumption.</summary>
    private const double StatedDeviation = 0.5;

    /// <summary>How little a word like "room" says of a store: standard deviation of the logarithm of the life in it. An
    /// assumption.</summary>
    private const double StoreDeviation = 0.3;

    private readonly double freshProbit;
    private readonly double freshVariance;
    private readonly double lifeVariance;

    private AgingCurve(double fresh, double? stated, SeedLongevity longevity, double storeFactor)
    {
        Longevity = longevity;
        YearsPerProbit = longevity.HalfYears * storeFactor / TypicalProbit(fresh, FreshDeviation);
        var deviation = stated is null ? FreshDeviation : StatedDeviation;
        freshVariance = deviation * deviation;
        freshProbit = TypicalProbit(stated is { } share ? Math.Clamp(share, 0.1, 0.995) : fresh, deviation);
        lifeVariance = longevity.LogDeviation * longevity.LogDeviation + StoreDeviation * StoreDeviation;
    }

    /// <summary>The half-life behind it, at 20 °C and 50 %.</summary>
    public SeedLongevity Longevity { get; }

    /// <summary>σ: years in which a lot loses one probit, in the store where it is.</summary>
    public double YearsPerProbit { get; }

    /// <summary>Years from harvest until half of a usual lot like this one has died.</summary>
    public double HalfYears => freshProbit * YearsPerProbit;

    /// <summary>The curve of a lot's crop, in the lot's store.</summary>
    /// <remarks>
    /// Fresh seed is what the packet states; otherwise half way from the legal minimum to all of it, or between that and the best share of
    /// the published stand where that is more: seed as it is sold lies between the two. An assumption.
    /// </remarks>
    public static AgingCurve Of(Lot lot, Crop crop)
    {
        ArgumentNullException.ThrowIfNull(lot);
        ArgumentNullException.ThrowIfNull(crop);
        var fromLaw = crop.Guide?.LegalMinimum is { } minimum ? (1 + minimum) / 2 : 0.8;
        return new(Math.Clamp((Math.Max(crop.Stand.Best, fromLaw) + fromLaw) / 2, 0.7, 0.99), lot.StatedShare, SeedLongevity.Of(crop),
            lot.Storage.LifeFactor());
    }

    /// <summary>What is believed of the probit of a lot so old.</summary>
    /// <param name="years">Years since harvest, at least 0.</param>
    /// <param name="yearsDeviation">How unsure its age is, years.</param>
    internal (double Mean, double Variance) ProbitAt(double years, double yearsDeviation = 0)
    {
        var lost = years / YearsPerProbit;
        var unsure = yearsDeviation / YearsPerProbit;
        return (freshProbit - lost, freshVariance + lost * lost * lifeVariance + unsure * unsure);
    }

    /// <summary>The probits lost in so many years, and how far a lot may lie from that.</summary>
    internal (double Lost, double Deviation) LostIn(double years) =>
        (years / YearsPerProbit, years / YearsPerProbit * Math.Sqrt(lifeVariance));

    /// <summary>The share expected of seed so many years old, the mean over lots.</summary>
    public double ShareAt(double years)
    {
        var (mean, variance) = ProbitAt(years);
        return Normal.CDF(0, 1, mean / Math.Sqrt(1 + variance));
    }

    /// <summary>Ki of the middle lot when lots that lie so far apart average a share.</summary>
    private static double TypicalProbit(double share, double deviation) =>
        Normal.InvCDF(0, 1, share) * Math.Sqrt(1 + deviation * deviation);
}
