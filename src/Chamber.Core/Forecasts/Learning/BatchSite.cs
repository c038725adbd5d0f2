using NodaTime;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// One batch's say about the sum of its factors, and about its crop's spread, each as a normal distribution that is refined in turns with
/// the others' (expectation propagation: T. P. Minka, Uncertainty in Artificial Intelligence 17 (2001) 362-369). The batch itself strays
/// from its factors a little, or, seldom, a lot: an odd batch explains itself and leaves the others alone.
/// </summary>
internal sealed class BatchSite(BatchEvidence evidence, FactorField field, FactorPriors priors, Instant now)
{
    private const double DaysOfYear = 365.25;

    private readonly BatchCurve curve = BatchCurve.Of(evidence);
    private readonly BatchSay half = new(field.Join(priors.HalfOf(evidence.Kind)));
    private readonly BatchSay spread = new(field.Join([new(Factor.SpreadOf(evidence.Kind), 1)]));
    private readonly double ageDeviation =
        HomePriors.DeviationPerYear * Math.Max(0, (now - evidence.SownAt).TotalDays / DaysOfYear);

    public BatchEvidence Evidence => evidence;

    /// <summary>By what the variance of a usual batch's straying is multiplied in this home.</summary>
    public double StrayingScale { get; set; } = priors.StrayingScale;

    /// <summary>How likely it is a usual batch, and the square of what it then strays by, over what is assumed of it.</summary>
    public (double Usual, double Share) Straying { get; private set; }

    /// <summary>What it says of its sum of factors.</summary>
    public SaidOfSum Said => half.Said;

    /// <summary>The chance that this batch is an odd one.</summary>
    public double Odd { get; private set; }

    /// <summary>Takes its old say out of the field and puts the new one in; returns by how much the say has changed.</summary>
    public double Refine()
    {
        var (factors, width) = (half.Without(field), spread.Without(field));
        var tilted = Tilt(factors, width);
        return Math.Max(half.Change(field, factors, tilted.Half), spread.Change(field, width, tilted.Spread));
    }

    /// <summary>A sum of factors on θ50 as all the other batches know it.</summary>
    public (double Mean, double Variance) HalfWithout(Part[] wanted) => half.Without(field, wanted);

    /// <summary>Its crop's spread as all the other batches know it.</summary>
    public (double Mean, double Variance) SpreadWithout() => spread.Without(field);

    private ((double Mean, double Variance) Half, (double Mean, double Variance) Spread) Tilt(
        (double Mean, double Variance) factors, (double Mean, double Variance) width)
    {
        var usual = Branch(factors, width, (HomePriors.BatchDeviation, StrayingScale), 1 - HomePriors.OddBatchShare);
        var odd = Branch(factors, width, (HomePriors.OddBatchDeviation, 1), HomePriors.OddBatchShare);
        var area = usual.Area + odd.Area;
        if (area <= 0)
        {
            return (factors, width);
        }

        Odd = odd.Area / area;
        Straying = (1 - Odd, usual.Stray / Square(priors.Straying(evidence.Kind, HomePriors.BatchDeviation)));
        return (Mixed(usual.Half, odd.Half, Odd), Mixed(usual.Spread, odd.Spread, Odd));
    }

    private static (double Mean, double Variance) Mixed(
        (double Mean, double Variance) one, (double Mean, double Variance) other, double share)
    {
        var mean = (1 - share) * one.Mean + share * other.Mean;
        return (mean, (1 - share) * (one.Variance + Square(one.Mean - mean)) + share * (other.Variance + Square(other.Mean - mean)));
    }

    /// <summary>The sums after the looks, if the batch strays by so much.</summary>
    private BranchMoments Branch((double Mean, double Variance) factors, (double Mean, double Variance) width,
        (double Deviation, double Scale) straying, double share)
    {
        var stray = straying.Scale * Square(priors.Straying(evidence.Kind, straying.Deviation));
        var own = stray + ageDeviation * ageDeviation;
        var total = factors.Variance + own;
        var ownWidth = Square(HomePriors.LogSpreadOfBatch);
        var seen = curve.Moments(
            new(1, factors.Mean, Math.Sqrt(total)), new(1, width.Mean, Math.Sqrt(width.Variance + ownWidth)));
        var part = stray / total;
        return new(
            share * seen.Area,
            Sum(factors, own, seen.Half),
            Sum(width, ownWidth, seen.Spread),
            Square(part * (seen.Half.Mean - factors.Mean)) + part * part * seen.Half.Variance + stray * (1 - part));
    }

    /// <summary>What is left of a sum when something of its own was on top of it and both together were seen.</summary>
    private static (double Mean, double Variance) Sum((double Mean, double Variance) sum, double own, (double Mean, double Variance) seen)
    {
        var pull = sum.Variance / (sum.Variance + own);
        return (sum.Mean + pull * (seen.Mean - sum.Mean), pull * pull * seen.Variance + pull * own);
    }

    private static double Square(double value) => value * value;

    private readonly record struct BranchMoments(
        double Area, (double Mean, double Variance) Half, (double Mean, double Variance) Spread, double Stray);
}
