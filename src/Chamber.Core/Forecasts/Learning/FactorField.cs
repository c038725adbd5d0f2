namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// The joint normal distribution of all factors. Evidence is about a sum of factors; it is put in, or taken out again, by a
/// rank-one change of the covariance (Sherman and Morrison 1950), so a home of many batches costs no matrix inversion.
/// </summary>
internal sealed class FactorField
{
    private readonly Dictionary<(FactorKind, string), int> places = [];
    private readonly List<Factor> factors = [];
    private double[,] covariance = new double[16, 16];
    private double[] shift = new double[16];

    public IReadOnlyList<Factor> Factors => factors;

    /// <summary>The places of some factors; ones not met before join with their prior.</summary>
    public int[] Join(Factor[] wanted)
    {
        var result = new int[wanted.Length];
        for (var i = 0; i < wanted.Length; i++)
        {
            var factor = wanted[i];
            if (!places.TryGetValue((factor.Kind, factor.Name), out var place))
            {
                place = Append(factor);
            }

            result[i] = place;
        }

        return result;
    }

    /// <summary>Mean and variance of the sum of some factors, of which those not met before have their prior.</summary>
    public (double Mean, double Variance) SumOf(Factor[] wanted)
    {
        var known = new List<int>();
        var (mean, variance) = (0.0, 0.0);
        foreach (var factor in wanted)
        {
            if (places.TryGetValue((factor.Kind, factor.Name), out var place))
            {
                known.Add(place);
            }
            else
            {
                mean += factor.PriorMean;
                variance += factor.PriorDeviation * factor.PriorDeviation;
            }
        }

        var sum = SumOf([.. known]);
        return (mean + sum.Mean, variance + sum.Variance);
    }

    /// <summary>Mean and variance of the sum of the factors at some places.</summary>
    public (double Mean, double Variance) SumOf(int[] at)
    {
        var (mean, variance) = (0.0, 0.0);
        foreach (var i in at)
        {
            mean += shift[i];
            foreach (var j in at)
            {
                variance += covariance[i, j];
            }
        }

        return (mean, variance);
    }

    /// <summary>
    /// Adds evidence about the sum of the factors at some places: precision and precision times mean (either may be negative, to take
    /// evidence out).
    /// </summary>
    public void Learn(int[] at, double precision, double precisionMean)
    {
        var count = factors.Count;
        var column = new double[count];
        for (var i = 0; i < count; i++)
        {
            foreach (var j in at)
            {
                column[i] += covariance[i, j];
            }
        }

        var (mean, variance) = SumOf(at);
        var gain = 1 / (1 + precision * variance);
        for (var i = 0; i < count; i++)
        {
            shift[i] += column[i] * gain * (precisionMean - precision * mean);
            for (var j = 0; j < count; j++)
            {
                covariance[i, j] -= column[i] * column[j] * precision * gain;
            }
        }
    }

    private int Append(Factor factor)
    {
        var place = factors.Count;
        if (place == shift.Length)
        {
            Grow();
        }

        factors.Add(factor);
        places.Add((factor.Kind, factor.Name), place);
        covariance[place, place] = factor.PriorDeviation * factor.PriorDeviation;
        shift[place] = factor.PriorMean;
        return place;
    }

    private void Grow()
    {
        var size = shift.Length * 2;
        var larger = new double[size, size];
        for (var i = 0; i < shift.Length; i++)
        {
            for (var j = 0; j < shift.Length; j++)
            {
                larger[i, j] = covariance[i, j];
            }
        }

        covariance = larger;
        Array.Resize(ref shift, size);
    }
}
