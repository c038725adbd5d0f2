using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// One batch's say about the sum of its factors, as a normal distribution that is refined in turns with the others' (expectation
/// propagation: T. P. Minka, Uncertainty in Artificial Intelligence 17 (2001) 362-369). The batch itself strays from its factors a
/// little, or, seldom, a lot: an odd batch explains itself and leaves the others alone.
/// </summary>
internal sealed class BatchSite(BatchEvidence evidence, int[] at, Instant now)
{
    private const double DaysOfYear = 365.25;

    private readonly BatchCurve curve = BatchCurve.Of(evidence);
    private readonly double ageDeviation =
        HomePriors.DeviationPerYear * Math.Max(0, (now - evidence.SownAt).TotalDays / DaysOfYear);

    private double precision;
    private double precisionMean;

    public BatchEvidence Evidence => evidence;

    /// <summary>By what the variance of a usual batch's straying is multiplied in this home.</summary>
    public double StrayingScale { get; set; } = 1;

    /// <summary>How likely it is a usual batch, and the square of what it then strays by, over what is assumed of it.</summary>
    public (double Usual, double Share) Straying { get; private set; }

    /// <summary>The chance that this batch is an odd one.</summary>
    public double Odd { get; private set; }

    /// <summary>Takes its old say out of the field and puts the new one in; returns by how much the say has changed.</summary>
    public double Refine(FactorField field)
    {
        var (mean, variance) = Without(field);
        var tilted = Tilt(mean, variance);

        // An odd batch can leave more doubt than there was; its say is then none rather than negative.
        var newPrecision = Math.Max(1 / tilted.Variance - 1 / variance, 0);
        var newPrecisionMean = newPrecision == 0 ? 0 : tilted.Mean / tilted.Variance - mean / variance;
        var change = Math.Abs(newPrecision - precision) * variance;
        field.Learn(at, newPrecision - precision, newPrecisionMean - precisionMean);
        (precision, precisionMean) = (newPrecision, newPrecisionMean);
        return change;
    }

    /// <summary>The sum of its factors as all the other batches know it.</summary>
    public (double Mean, double Variance) Without(FactorField field)
    {
        var (mean, variance) = field.SumOf(at);
        var rest = 1 / variance - precision;
        return ((mean / variance - precisionMean) / rest, 1 / rest);
    }

    private (double Mean, double Variance) Tilt(double mean, double variance)
    {
        var usual = Branch(mean, variance, (HomePriors.BatchDeviation, StrayingScale), 1 - HomePriors.OddBatchShare);
        var odd = Branch(mean, variance, (HomePriors.OddBatchDeviation, 1), HomePriors.OddBatchShare);
        var area = usual.Area + odd.Area;
        if (area <= 0)
        {
            return (mean, variance);
        }

        Odd = odd.Area / area;
        Straying = (1 - Odd, usual.Stray / Square(evidence.Kind.Straying(HomePriors.BatchDeviation)));
        var middle = (1 - Odd) * usual.Mean + Odd * odd.Mean;
        var spread = (1 - Odd) * (usual.Variance + Square(usual.Mean - middle)) + Odd * (odd.Variance + Square(odd.Mean - middle));
        return (middle, spread);
    }

    /// <summary>The sum of the factors after the looks, if the batch strays by so much.</summary>
    private (double Area, double Mean, double Variance, double Stray) Branch(
        double mean, double variance, (double Deviation, double Scale) straying, double share)
    {
        var stray = straying.Scale * Square(evidence.Kind.Straying(straying.Deviation));
        var own = stray + ageDeviation * ageDeviation;
        var total = variance + own;
        var seen = curve.Moments(new(1, mean, Math.Sqrt(total)));
        var pull = variance / total;
        var part = stray / total;
        return (share * seen.Area, mean + pull * (seen.Mean - mean), pull * pull * seen.Variance + variance * own / total,
            Square(part * (seen.Mean - mean)) + part * part * seen.Variance + stray * (1 - part));
    }

    private static double Square(double value) => value * value;
}
