using System.Numerics;
using System.Runtime.InteropServices;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>Where a factor stands in the field, and how many times it counts.</summary>
internal readonly record struct Placed(int Place, double Times);

/// <summary>
/// The joint normal distribution of all factors. Evidence is about a sum of factors; it is put in, or taken out again, by a
/// rank-one change of the covariance (Sherman and Morrison 1950), so a home of many batches costs no matrix inversion.
/// </summary>
internal sealed class FactorField
{
    private readonly Dictionary<(FactorKind, string), int> places = [];
    private readonly List<Factor> factors = [];
    private double[][] covariance = Square(16);
    private double[] shift = new double[16];
    private double[] times = [.. VarianceGrid.Kinds.Select(_ => 1.0)];

    public IReadOnlyList<Factor> Factors => factors;

    /// <summary>By what the prior variances of <see cref="VarianceGrid.Kinds"/> are multiplied in this home; 1 at first.</summary>
    public IReadOnlyList<double> Times => times;

    /// <summary>Changes the prior variances; what has been learned stays.</summary>
    /// <param name="next">The new multiples, each above 0.</param>
    public void Rescale(double[] next)
    {
        for (var place = 0; place < factors.Count; place++)
        {
            if (VarianceGrid.KindOf(factors[place].Kind) is >= 0 and var kind)
            {
                // A prior is evidence like any other: the old one is taken out and the new one put in.
                var (mean, variance) = (factors[place].PriorMean, factors[place].PriorDeviation * factors[place].PriorDeviation);
                var more = (1 / next[kind] - 1 / times[kind]) / variance;
                Learn([new(place, 1)], more, more * mean);
            }
        }

        times = next;
    }

    /// <summary>The places of some factors; ones not met before join with their prior.</summary>
    public Placed[] Join(Part[] wanted)
    {
        var result = new Placed[wanted.Length];
        for (var i = 0; i < wanted.Length; i++)
        {
            var (factor, count) = wanted[i];
            if (!places.TryGetValue((factor.Kind, factor.Name), out var place))
            {
                place = Append(factor);
            }

            result[i] = new(place, count);
        }

        return result;
    }

    /// <summary>Mean and variance of the sum of some factors, of which those not met before have their prior.</summary>
    public (double Mean, double Variance) SumOf(Part[] wanted) => SumWithout(wanted, [], 0, 0);

    /// <summary>The same as if some evidence had never been put in.</summary>
    /// <param name="wanted">Whose sum.</param>
    /// <param name="at">What the evidence is about.</param>
    /// <param name="precision">Its precision.</param>
    /// <param name="precisionMean">Its precision times its mean.</param>
    public (double Mean, double Variance) SumWithout(Part[] wanted, Placed[] at, double precision, double precisionMean)
    {
        var known = new List<Placed>();
        var (mean, variance) = (0.0, 0.0);
        foreach (var (factor, count) in wanted)
        {
            if (places.TryGetValue((factor.Kind, factor.Name), out var place))
            {
                known.Add(new(place, count));
            }
            else
            {
                mean += count * factor.PriorMean;
                variance += count * count * Variance(factor);
            }
        }

        Placed[] sum = [.. known];
        var (of, about) = (SumOf(sum), SumOf(at));
        var across = Across(sum, at);
        var gain = 1 / (1 - precision * about.Variance);
        return (
            mean + of.Mean + across * gain * (precision * about.Mean - precisionMean),
            variance + of.Variance + across * across * precision * gain);
    }

    /// <summary>Mean and variance of the sum of the factors at some places.</summary>
    public (double Mean, double Variance) SumOf(Placed[] at) => (at.Sum(one => one.Times * shift[one.Place]), Across(at, at));

    /// <summary>How two sums vary together.</summary>
    private double Across(Placed[] one, Placed[] other)
    {
        var sum = 0.0;
        foreach (var (i, count) in one)
        {
            foreach (var (j, otherCount) in other)
            {
                sum += count * otherCount * covariance[i][j];
            }
        }

        return sum;
    }

    /// <summary>
    /// Adds evidence about the sum of the factors at some places: precision and precision times mean (either may be negative, to take
    /// evidence out).
    /// </summary>
    public void Learn(Placed[] at, double precision, double precisionMean)
    {
        var count = factors.Count;
        var column = new double[count];
        foreach (var (j, often) in at)
        {
            // The row, which is the column too.
            AddTimes(column, covariance[j].AsSpan(0, count), often);
        }

        var (mean, variance) = SumOf(at);
        var gain = 1 / (1 + precision * variance);
        for (var i = 0; i < count; i++)
        {
            // What has nothing to do with the sum learns nothing from it.
            if (column[i] != 0)
            {
                shift[i] += column[i] * gain * (precisionMean - precision * mean);
                SubtractProduct(covariance[i].AsSpan(0, count), column, column[i], precision, gain);
            }
        }
    }

    // A home of many batches does hardly anything but these two, so several numbers are worked out at once.
    private static void AddTimes(Span<double> sum, ReadOnlySpan<double> row, double times)
    {
        var sums = MemoryMarshal.Cast<double, Vector<double>>(sum);
        var rows = MemoryMarshal.Cast<double, Vector<double>>(row);
        for (var i = 0; i < sums.Length; i++)
        {
            sums[i] += rows[i] * times;
        }

        for (var i = sums.Length * Vector<double>.Count; i < sum.Length; i++)
        {
            sum[i] += times * row[i];
        }
    }

    private static void SubtractProduct(Span<double> row, ReadOnlySpan<double> column, double own, double precision, double gain)
    {
        var rows = MemoryMarshal.Cast<double, Vector<double>>(row);
        var columns = MemoryMarshal.Cast<double, Vector<double>>(column);
        for (var i = 0; i < rows.Length; i++)
        {
            rows[i] -= columns[i] * own * precision * gain;
        }

        for (var i = rows.Length * Vector<double>.Count; i < row.Length; i++)
        {
            row[i] -= own * column[i] * precision * gain;
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
        covariance[place][place] = Variance(factor);
        shift[place] = factor.PriorMean;
        return place;
    }

    private double Variance(Factor factor) => factor.PriorDeviation * factor.PriorDeviation
        * (VarianceGrid.KindOf(factor.Kind) is >= 0 and var kind ? times[kind] : 1);

    private void Grow()
    {
        var size = shift.Length * 2;
        var larger = Square(size);
        for (var i = 0; i < shift.Length; i++)
        {
            covariance[i].CopyTo(larger[i], 0);
        }

        covariance = larger;
        Array.Resize(ref shift, size);
    }

    private static double[][] Square(int size) => [.. Enumerable.Range(0, size).Select(_ => new double[size])];
}
