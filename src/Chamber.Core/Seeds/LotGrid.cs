using Chamber.Core.Statistics;

namespace Chamber.Core.Seeds;

/// <summary>
/// What is believed of one lot, on a grid over its probit today. Most lots are as their kind, age and store say; one in twenty is anything
/// at all, so that a first count of the lot's own seeds outweighs its age at once.
/// </summary>
internal sealed class LotGrid
{
    private const double Reach = 6;
    private const double Step = 0.04;

    /// <summary>How many lots are nothing like what kind, age and store say: damp once, mislabelled, saved green, or kept far better. An
    /// assumption.</summary>
    private const double OddShare = 0.05;

    /// <summary>A belief keeps half a seed away from none and from all, and is made up to six seeds firmer than it is to keep its mean
    /// there.</summary>
    private const double EndDistance = 0.5;
    private const double WeightForMean = 6;

    private static readonly (double At, double Weight)[] Noise =
        [(-2.856970, 0.011257), (-1.355626, 0.222076), (0, 0.533333), (1.355626, 0.222076), (2.856970, 0.011257)];

    private readonly double[] probits;

    // As logarithms: the likelihood of a count of a thousand seeds is smaller than any number.
    private readonly double[] weights;

    private LotGrid(double[] probits, double[] weights) => (this.probits, this.weights) = (probits, weights);

    /// <summary>The expected share.</summary>
    public double Mean => Moments().Mean;

    public static LotGrid Of(AgingCurve curve, double years, double yearsDeviation)
    {
        var (mean, variance) = curve.ProbitAt(years, yearsDeviation);
        double[] probits = [.. Enumerable.Range(0, (int)(2 * Reach / Step) + 1).Select(i => -Reach + i * Step)];

        // Where nothing is known of a lot its share is taken as even between none and all: a standard normal probit.
        double[] weights = [.. probits.Select(probit => Math.Log(
            (1 - OddShare) * Math.Exp(-(probit - mean) * (probit - mean) / (2 * variance)) / Math.Sqrt(variance)
                + OddShare * Math.Exp(-probit * probit / 2)))];
        return new(probits, weights);
    }

    /// <summary>Bayes' rule for a count of some time ago, since which the lot has lost so many probits.</summary>
    public void Learn(SeedCount count, (double Lost, double Deviation) since)
    {
        Span<double> likelihoods = stackalloc double[Noise.Length];
        for (var i = 0; i < probits.Length; i++)
        {
            for (var k = 0; k < Noise.Length; k++)
            {
                var (at, weight) = Noise[k];
                var share = Math.Clamp(StandardNormal.Cdf(probits[i] + Math.Max(0, since.Lost + since.Deviation * at)), 1e-12, 1 - 1e-12);
                likelihoods[k] = Math.Log(weight) + count.Up * Math.Log(share) + (count.Seeds - count.Up) * Math.Log(1 - share);
            }

            weights[i] += LogSum.Of(likelihoods);
        }
    }

    /// <summary>The beta distribution of the same mean and variance, as far as its ends allow.</summary>
    public ShareBelief Belief()
    {
        var (mean, variance) = Moments();
        var weight = Math.Max(mean * (1 - mean) / variance - 1, Math.Min(WeightForMean, EndDistance / Math.Min(mean, 1 - mean)));
        return ShareBelief.Around(mean, weight);
    }

    private (double Mean, double Variance) Moments()
    {
        var (total, first, second) = (0.0, 0.0, 0.0);
        var most = weights.Max();
        for (var i = 0; i < probits.Length; i++)
        {
            var (share, weight) = (StandardNormal.Cdf(probits[i]), Math.Exp(weights[i] - most));
            total += weight;
            first += weight * share;
            second += weight * share * share;
        }

        var mean = first / total;
        return (mean, Math.Max(1e-9, second / total - mean * mean));
    }
}
