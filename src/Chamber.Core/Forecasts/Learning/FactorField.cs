using System.Numerics;
using System.Runtime.InteropServices;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>Where a factor stands in the field, and how many times it counts.</summary>
internal readonly record struct Placed(int Place, double Times);

/// <summary>A sum of factors but lots, by their slots, with a lot that was in it integrated out.</summary>
/// <param name="Terms">The factors; each slot once.</param>
/// <param name="Constant">What the lot adds whatever the others are.</param>
/// <param name="Rest">The variance of the lot when the others are known.</param>
internal readonly record struct FactorSum(Placed[] Terms, double Constant, double Rest);

/// <summary>
/// The joint normal distribution of all factors. Evidence is about a sum of factors; it is put in, or taken out again, by a
/// rank-one change of the covariance (Sherman and Morrison 1950), so a home of many batches costs no matrix inversion. Lots stand beside
/// the covariance (<see cref="LotFactor"/>).
/// </summary>
internal sealed class FactorField
{
    private readonly Dictionary<(FactorKind, string), int> places = [];
    private readonly List<Factor> factors = [];

    // Where the factor at a place is kept: a row of the covariance, or, below 0, the complement of its number among the lots.
    private readonly List<int> slots = [];
    private readonly List<LotFactor> lots = [];
    private double[][] covariance = Square(16);
    private double[] shift = new double[16];
    private double[] times = [.. VarianceGrid.Kinds.Select(_ => 1.0)];

    public IReadOnlyList<Factor> Factors => factors;

    /// <summary>By what the prior variances of <see cref="VarianceGrid.Kinds"/> are multiplied in this home; 1 at first.</summary>
    public IReadOnlyList<double> Times => times;

    private int Rows => factors.Count - lots.Count;

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
        var across = Across(Reduced(sum).Terms, Reduced(at).Terms) + AcrossLot(sum, at);
        var gain = 1 / (1 - precision * about.Variance);
        return (
            mean + of.Mean + across * gain * (precision * about.Mean - precisionMean),
            variance + of.Variance + across * across * precision * gain);
    }

    /// <summary>Mean and variance of the sum of the factors at some places.</summary>
    public (double Mean, double Variance) SumOf(Placed[] at)
    {
        var sum = Reduced(at);
        var mean = sum.Constant;
        foreach (var (row, count) in sum.Terms)
        {
            mean += count * shift[row];
        }

        return (mean, Across(sum.Terms, sum.Terms) + sum.Rest);
    }

    /// <summary>
    /// Adds evidence about the sum of the factors at some places: precision and precision times mean (either may be negative, to take
    /// evidence out).
    /// </summary>
    public void Learn(Placed[] at, double precision, double precisionMean)
    {
        // What is said of the sum says less of what is left of it when the lot is integrated out.
        var (rows, lot, often) = Split(at);
        var sum = lot?.In(rows, often) ?? new(rows, 0, 0);
        var told = 1 / (1 + precision * sum.Rest);
        LearnRows(sum.Terms, precision * told, (precisionMean - precision * sum.Constant) * told);
        lot?.Learn(rows, often, precision, precisionMean);
    }

    private void LearnRows(Placed[] at, double precision, double precisionMean)
    {
        var count = Rows;
        var column = new double[count];
        var mean = 0.0;
        foreach (var (row, often) in at)
        {
            // The row, which is the column too.
            AddTimes(column, covariance[row].AsSpan(0, count), often);
            mean += often * shift[row];
        }

        var variance = 0.0;
        foreach (var (row, often) in at)
        {
            variance += often * column[row];
        }

        var gain = 1 / (1 + precision * variance);
        for (var i = 0; i < count; i++)
        {
            // What has nothing to do with the sum learns nothing from it.
            if (column[i] != 0)
            {
                shift[i] += column[i] * gain * (precisionMean - precision * mean);
                AddTimes(covariance[i].AsSpan(0, count), column, -column[i] * precision * gain);
            }
        }
    }

    private FactorSum Reduced(Placed[] at)
    {
        var (rows, lot, often) = Split(at);
        return lot?.In(rows, often) ?? new(rows, 0, 0);
    }

    // The rows of a sum, and the lot in it with how many times it counts.
    private (Placed[] Rows, LotFactor? Lot, double Often) Split(Placed[] at)
    {
        var own = Array.FindIndex(at, one => slots[one.Place] < 0);
        var rows = new Placed[own < 0 ? at.Length : at.Length - 1];
        for (int from = 0, to = 0; from < at.Length; from++)
        {
            if (from != own)
            {
                rows[to++] = at[from] with { Place = slots[at[from].Place] };
            }
        }

        return own < 0 ? (rows, null, 0) : (rows, lots[~slots[at[own].Place]], at[own].Times);
    }

    /// <summary>How two sums of rows vary together.</summary>
    private double Across(Placed[] one, Placed[] other)
    {
        var sum = 0.0;
        foreach (var (i, count) in one)
        {
            var row = covariance[i];
            foreach (var (j, otherCount) in other)
            {
                sum += count * otherCount * row[j];
            }
        }

        return sum;
    }

    // What two sums have in common beside the rows: a lot that is in both.
    private double AcrossLot(Placed[] one, Placed[] other)
    {
        var (mine, theirs) = (Split(one), Split(other));
        return mine.Lot is { } lot && lot == theirs.Lot ? mine.Often * theirs.Often * lot.In([], 1).Rest : 0;
    }

    // A home of many batches does hardly anything but this, so several numbers are worked out at once.
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

    private int Append(Factor factor)
    {
        var place = factors.Count;
        if (factor.Kind == FactorKind.Lot)
        {
            slots.Add(~lots.Count);
            lots.Add(new(factor.PriorMean, Variance(factor)));
        }
        else
        {
            var row = Rows;
            if (row == shift.Length)
            {
                Grow();
            }

            slots.Add(row);
            covariance[row][row] = Variance(factor);
            shift[row] = factor.PriorMean;
        }

        factors.Add(factor);
        places.Add((factor.Kind, factor.Name), place);
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
