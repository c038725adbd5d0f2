using Chamber.Core.Crops;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Seeds;

/// <summary>
/// The share of seed that still comes up as it ages: normal deaths in time, a straight line in probits. R. H. Ellis and
/// E. H. Roberts, "Improved equations for the prediction of seed longevity", Ann. Bot. 45 (1980) 13-30, equation 1; its species
/// constants are left out, since no source for them was read. Instead the line runs from the share of fresh seed to
/// three quarters of it at the end of the published life, which is an assumption: tables of life do not say what they mean by it.
/// </summary>
public sealed class AgingCurve
{
    private const double KeptAtEndOfLife = 0.75;

    /// <summary>Used where no life was published: the middle of the published table.</summary>
    private const double LifeYearsUnknown = 3;

    private readonly double freshProbit;
    private readonly double probitsPerYear;

    private AgingCurve(double fresh, double lifeYears)
    {
        Fresh = fresh;
        LifeYears = lifeYears;
        freshProbit = Normal.InvCDF(0, 1, fresh);
        probitsPerYear = (freshProbit - Normal.InvCDF(0, 1, fresh * KeptAtEndOfLife)) / lifeYears;
    }

    /// <summary>The share of fresh seed, 0.5 to 0.99.</summary>
    public double Fresh { get; }

    /// <summary>Years that it is worth sowing, in the store where it is.</summary>
    public double LifeYears { get; }

    /// <summary>The curve of a lot's crop, in the lot's store.</summary>
    /// <remarks>
    /// Fresh seed is what the packet states; otherwise the best share of the published stand, or half way from the legal minimum
    /// to all of it, whichever is more (an old lot in a table says little about the crop).
    /// </remarks>
    public static AgingCurve Of(Lot lot, Crop crop)
    {
        ArgumentNullException.ThrowIfNull(lot);
        ArgumentNullException.ThrowIfNull(crop);
        var fromLaw = crop.Guide?.LegalMinimum is { } minimum ? (1 + minimum) / 2 : 0.8;
        var fresh = lot.StatedShare ?? Math.Max(crop.Stand.Best, fromLaw);
        return new(Math.Clamp(fresh, 0.5, 0.99), (crop.Guide?.LifeYears ?? LifeYearsUnknown) * lot.Storage.LifeFactor());
    }

    /// <summary>The share expected of seed so many years old.</summary>
    public double ShareAt(double years) => Normal.CDF(0, 1, freshProbit - probitsPerYear * years);
}
