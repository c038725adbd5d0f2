namespace Chamber.Core.Statistics;

/// <summary>How many seeds it takes to know.</summary>
public static class SampleSize
{
    /// <summary>No home grower sows more seeds than this in each of two trials to settle a question.</summary>
    public const int SeedsMax = 5000;

    /// <summary>
    /// Seeds in each of two samples so that Fisher's exact test at 5 % finds a true difference 4 times in 5:
    /// J. T. Casagrande, M. C. Pike and P. G. Smith, "An improved approximate formula for calculating sample sizes for
    /// comparing two binomial distributions", Biometrics 34 (1978) 483-486.
    /// </summary>
    /// <param name="first">A share, 0 to 1.</param>
    /// <param name="second">The other.</param>
    /// <returns>Seeds in each, or null when the shares are too alike for <see cref="SeedsMax"/> to tell apart.</returns>
    public static int? ToTellApart(double first, double second)
    {
        const double fivePercent = 1.959963984540054;
        const double fourInFive = 0.8416212335729143;
        var apart = Math.Abs(first - second);
        var middle = (first + second) / 2;
        var spread = fivePercent * Math.Sqrt(2 * middle * (1 - middle))
            + fourInFive * Math.Sqrt(first * (1 - first) + second * (1 - second));
        var area = spread * spread;
        var root = 1 + Math.Sqrt(1 + 4 * apart / area);
        var seeds = Math.Ceiling(area * root * root / (4 * apart * apart));
        return seeds <= SeedsMax ? (int)seeds : null;
    }

    /// <summary>The fewest seeds whose 95 % Wilson interval reaches no further than so much to either side of the expected share.</summary>
    /// <param name="expected">The share that is expected, 0 to 1.</param>
    /// <param name="reach">Half the width that is good enough, above 0, below 0.5.</param>
    public static int ToKnowWithin(double expected, double reach)
    {
        if (reach is not (> 0 and < 0.5))
        {
            throw new ArgumentOutOfRangeException(nameof(reach), reach, "How near to know a share lies between 0 and 0.5, as 0.1.");
        }

        var seeds = 1;
        while (HalfWidth(seeds, expected) > reach)
        {
            seeds++;
        }

        return seeds;
    }

    /// <summary>Half the width of the 95 % Wilson interval for a share that need not be a whole count.</summary>
    private static double HalfWidth(int seeds, double share)
    {
        const double z = 1.959963984540054;
        return z * Math.Sqrt(z * z + 4 * seeds * share * (1 - share)) / (2 * (seeds + z * z));
    }
}
