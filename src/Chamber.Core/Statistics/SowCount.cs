using MathNet.Numerics;

namespace Chamber.Core.Statistics;

/// <summary>How many to sow so that at least so many come of it.</summary>
/// <param name="Sow">The smallest number of seeds that is enough.</param>
/// <param name="Chance">The chance that they are enough; at least what was asked for.</param>
public readonly record struct SowCount(int Sow, double Chance)
{
    /// <summary>Nobody sows more than this at once; beyond it the answer is "cannot be had from this seed".</summary>
    public const int SowMax = 100_000;

    /// <summary>A seed that comes up nine times in ten is enough for nine times in ten, whatever the last digit says.</summary>
    private const double Rounding = 1e-12;

    /// <summary>The chance of at least so many successes in so many independent tries (binomial).</summary>
    /// <param name="wanted">k; 0 or fewer is certain.</param>
    /// <param name="tries">n.</param>
    /// <param name="share">p of one try, 0 to 1.</param>
    public static double ChanceOfAtLeast(int wanted, int tries, double share)
    {
        if (wanted <= 0)
        {
            return 1;
        }

        // P(X ≥ k) is the regularised incomplete beta function I_p(k, n - k + 1): NIST Handbook of Mathematical Functions (2010), 8.17.5.
        return wanted > tries || share <= 0 ? 0 : share >= 1 ? 1 : SpecialFunctions.BetaRegularized(wanted, tries - wanted + 1, share);
    }

    /// <summary>The smallest count for a share that is known.</summary>
    /// <param name="plants">k, at least 1.</param>
    /// <param name="share">The share that becomes a plant, above 0, at most 1.</param>
    /// <param name="assurance">How sure to be, above 0, below 1.</param>
    /// <returns>The count, or null when even <see cref="SowMax"/> would not do.</returns>
    public static SowCount? For(int plants, double share, double assurance)
    {
        RequireShare(share, nameof(share));
        return Smallest(plants, assurance, seeds => ChanceOfAtLeast(plants, seeds, share));
    }

    /// <summary>The smallest count for a share that is only believed: its doubt is in the answer.</summary>
    /// <param name="plants">k, at least 1.</param>
    /// <param name="belief">What is believed of the share that comes up.</param>
    /// <param name="survival">The share of those up that lives to be planted out, above 0, at most 1.</param>
    /// <param name="assurance">How sure to be, above 0, below 1.</param>
    /// <returns>The count, or null when even <see cref="SowMax"/> would not do.</returns>
    public static SowCount? For(int plants, ShareBelief belief, double survival, double assurance)
    {
        RequireShare(survival, nameof(survival));
        return Smallest(plants, assurance, seeds => survival < 1 || seeds > 2000
            ? belief.MeanOf(share => ChanceOfAtLeast(plants, seeds, share * survival))
            : belief.ChanceOfAtLeast(plants, seeds));
    }

    /// <summary>The smallest number of cells, each thinned to one plant, so that at least so many hold one.</summary>
    /// <param name="plants">k, at least 1.</param>
    /// <param name="perCell">Seeds in a cell, at least 1.</param>
    /// <param name="belief">What is believed of the share that comes up.</param>
    /// <param name="survival">The share of thinned plants that lives to be planted out.</param>
    /// <param name="assurance">How sure to be, above 0, below 1.</param>
    /// <returns>Cells, not seeds; or null when even <see cref="SowMax"/> would not do.</returns>
    public static SowCount? Cells(int plants, int perCell, ShareBelief belief, double survival, double assurance)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(perCell, 1);
        RequireShare(survival, nameof(survival));
        return Smallest(plants, assurance, cells => belief.MeanOf(share =>
            ChanceOfAtLeast(plants, cells, CellShare(share, perCell) * survival)));
    }

    /// <summary>The same for a share that is known.</summary>
    /// <inheritdoc cref="Cells(int, int, ShareBelief, double, double)"/>
    public static SowCount? Cells(int plants, int perCell, double share, double survival, double assurance)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(perCell, 1);
        RequireShare(share, nameof(share));
        RequireShare(survival, nameof(survival));
        return Smallest(plants, assurance, cells => ChanceOfAtLeast(plants, cells, CellShare(share, perCell) * survival));
    }

    /// <summary>The fewest seeds a cell needs so that it holds a plant with the chance asked for.</summary>
    public static int PerCell(double share, double assurance)
    {
        RequireShare(share, nameof(share));
        RequireAssurance(assurance);
        return share >= 1 ? 1 : (int)Math.Ceiling(Math.Log(1 - assurance) / Math.Log(1 - share) - 1e-12);
    }

    /// <summary>The chance that at least one of a cell's seeds comes up.</summary>
    private static double CellShare(double share, int perCell) => 1 - Math.Pow(1 - share, perCell);

    private static SowCount? Smallest(int plants, double assurance, Func<int, double> chance)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(plants, 1);
        RequireAssurance(assurance);
        var (low, high) = (plants - 1, plants);
        while (chance(high) < assurance - Rounding)
        {
            if (high >= SowMax)
            {
                return null;
            }

            (low, high) = (high, Math.Min(high * 2, SowMax));
        }

        while (high - low > 1)
        {
            var middle = low + (high - low) / 2;
            (low, high) = chance(middle) < assurance - Rounding ? (middle, high) : (low, middle);
        }

        return new(high, chance(high));
    }

    private static void RequireShare(double share, string name)
    {
        if (share is not (> 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(name, share, "A share lies above 0 and is at most 1, as 0.8.");
        }
    }

    private static void RequireAssurance(double assurance)
    {
        if (assurance is not (> 0 and < 1))
        {
            throw new ArgumentOutOfRangeException(nameof(assurance), assurance, "An assurance lies between 0 and 1, as 0.95.");
        }
    }
}
