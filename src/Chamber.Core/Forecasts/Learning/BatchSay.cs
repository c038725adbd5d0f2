namespace Chamber.Core.Forecasts.Learning;

/// <summary>What one batch says of a sum of factors, as a normal distribution; it can be taken out of the field and put in again.</summary>
/// <param name="at">Which sum.</param>
internal sealed class BatchSay(Placed[] at)
{
    private double precision;
    private double precisionMean;

    /// <summary>A sum as all the other batches know it.</summary>
    public (double Mean, double Variance) Without(FactorField field, Part[] wanted) =>
        field.SumWithout(wanted, at, precision, precisionMean);

    /// <summary>Its own sum as all the other batches know it.</summary>
    public (double Mean, double Variance) Without(FactorField field)
    {
        var (mean, variance) = field.SumOf(at);
        var rest = 1 / variance - precision;
        return ((mean / variance - precisionMean) / rest, 1 / rest);
    }

    /// <summary>What it says now.</summary>
    public SaidOfSum Said => new(at, precision, precisionMean);

    /// <summary>Takes the old say out of the field and puts the new one in.</summary>
    /// <param name="field">The field.</param>
    /// <param name="without">The sum as the others know it.</param>
    /// <param name="with">The sum with this batch.</param>
    /// <returns>By how much the say has changed.</returns>
    public double Change(FactorField field, (double Mean, double Variance) without, (double Mean, double Variance) with)
    {
        // An odd batch can leave more doubt than there was; its say is then none rather than negative.
        var newPrecision = Math.Max(1 / with.Variance - 1 / without.Variance, 0);
        var newPrecisionMean = newPrecision == 0 ? 0 : with.Mean / with.Variance - without.Mean / without.Variance;
        var change = Math.Abs(newPrecision - precision) * without.Variance;
        field.Learn(at, newPrecision - precision, newPrecisionMean - precisionMean);
        (precision, precisionMean) = (newPrecision, newPrecisionMean);
        return change;
    }
}
