namespace Chamber.Core.Statistics;

/// <summary>How many plants come of so many seeds: 80 % interval and middle of the binomial or beta-binomial distribution.</summary>
/// <param name="Low">At least so many come of nine in ten such sowings.</param>
/// <param name="Mid">At least so many come of every other one.</param>
/// <param name="High">At least so many come of one in ten.</param>
public readonly record struct PlantCount(int Low, int Mid, int High)
{
    private const double NineInTen = 0.9;
    private const double OneInTen = 0.1;

    /// <summary>For a share that is known.</summary>
    /// <param name="seeds">How many are sown, at least 1.</param>
    /// <param name="share">The share that becomes a plant, 0 to 1.</param>
    public static PlantCount Of(int seeds, double share) =>
        Of(seeds, plants => SowCount.ChanceOfAtLeast(plants, seeds, share));

    /// <summary>For a share that is only believed: its doubt is in the interval.</summary>
    /// <param name="seeds">How many are sown, at least 1.</param>
    /// <param name="belief">What is believed of the share that comes up.</param>
    /// <param name="survival">The share of those up that lives to be planted out, above 0, at most 1.</param>
    public static PlantCount Of(int seeds, ShareBelief belief, double survival) =>
        Of(seeds, plants => belief.MeanOf(share => SowCount.ChanceOfAtLeast(plants, seeds, share * survival)));

    private static PlantCount Of(int seeds, Func<int, double> chanceOfAtLeast)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(seeds, 1);
        return new(Reached(NineInTen), Reached(0.5), Reached(OneInTen));

        // The chance falls with the count, so halving finds the largest count that is still reached so often.
        int Reached(double chance)
        {
            var (low, high) = (0, seeds);
            while (low < high)
            {
                var middle = (low + high + 1) / 2;
                (low, high) = chanceOfAtLeast(middle) >= chance ? (middle, high) : (low, middle - 1);
            }

            return low;
        }
    }
}
