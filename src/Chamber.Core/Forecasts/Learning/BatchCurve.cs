using System.Numerics;
using System.Runtime.InteropServices;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// How likely one batch's looks are as a function of its ln θ50 and ln σ, each less the table's, with G integrated out: taken once, on
/// wide steps of ln θ50 everywhere and narrow ones where the weight lies.
/// </summary>
internal sealed class BatchCurve
{
    private const double WidestFactor = 2.4;
    private const int WideSteps = 49;
    private const int NarrowSteps = 49;
    private const int SpreadNodes = 13;
    private const int ShareNodesCount = 12;
    private const double LeastPrecision = 1;
    private const double SpreadReach = 3.5 * HomePriors.LogSpreadDeviation;

    /// <summary>As wide as anything that is believed beforehand: only used to place the narrow steps.</summary>
    private static readonly NormalTerm Anywhere = new(1, 0, 0.6);

    private static readonly NormalTerm AnySpread = new(1, 0, HomePriors.LogSpreadDeviation);

    /// <summary>ln σ less the table's.</summary>
    private static readonly double[] Spreads = Steps(-SpreadReach, SpreadReach, SpreadNodes);

    // Steps of ln θ50, and for each spread the weights at all of them; both filled up with weights of 0 to whole vectors.
    private readonly double[] at;
    private readonly double[][] weights;

    private BatchCurve(double[] at, double[][] weights)
    {
        this.at = at;
        this.weights = weights;
    }

    public static BatchCurve Of(BatchEvidence evidence)
    {
        var take = new Marginal(evidence);
        var points = Steps(-WidestFactor, WidestFactor, WideSteps).Select(x => (X: x, Logs: take.LogsAt(x))).ToList();
        for (var pass = 0; pass < 2; pass++)
        {
            var (mean, variance) = Build(points).Moments(Anywhere, AnySpread).Half;
            var half = 6 * Math.Max(Math.Sqrt(variance), pass == 0 ? 0.05 : 0.002);
            points.AddRange(Steps(mean - half, mean + half, NarrowSteps).Select(x => (x, take.LogsAt(x))));
            points.Sort((one, other) => one.X.CompareTo(other.X));
        }

        return Build(points);
    }

    /// <summary>The likelihood times a normal distribution of each: its area, and mean and variance of what it covers.</summary>
    public (double Area, (double Mean, double Variance) Half, (double Mean, double Variance) Spread) Moments(
        NormalTerm half, NormalTerm spread)
    {
        // A home of many batches asks for this more than for anything else, so several steps are worked out at once.
        var densities = new double[3][];
        densities[0] = Array.ConvertAll(at, half.Density);
        densities[1] = Times(densities[0], at);
        densities[2] = Times(densities[1], at);
        var (area, mean, square, width, widthSquare) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (var j = 0; j < weights.Length; j++)
        {
            var (density, log) = (spread.Density(Spreads[j]), Spreads[j]);
            var (here, first, second) = Products(weights[j], densities);
            area += density * here;
            mean += density * first;
            square += density * second;
            width += density * here * log;
            widthSquare += density * here * log * log;
        }

        return area <= 0
            ? (0, (half.Mean, half.Deviation * half.Deviation), (spread.Mean, spread.Deviation * spread.Deviation))
            : (area, Of(mean, square), Of(width, widthSquare));

        (double, double) Of(double sum, double squares) => (sum / area, Math.Max(squares / area - sum / area * (sum / area), 1e-10));
    }

    /// <summary>What the looks alone say of ln θ50 less the table's, as a normal distribution; null when they say next to
    /// nothing.</summary>
    public (double Mean, double Deviation)? Alone()
    {
        var (area, (mean, variance), _) = Moments(Anywhere, AnySpread);
        var precision = 1 / variance - 1 / (Anywhere.Deviation * Anywhere.Deviation);
        return area <= 0 || precision < LeastPrecision ? null : (mean / variance / precision, 1 / Math.Sqrt(precision));
    }

    private static double[] Steps(double low, double high, int count) =>
        [.. Enumerable.Range(0, count).Select(i => low + (high - low) * i / (count - 1))];

    private static BatchCurve Build(List<(double X, double[] Logs)> points)
    {
        var largest = points.Max(point => point.Logs.Max());
        var filled = (points.Count + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
        double[][] weights = [.. Spreads.Select(_ => new double[filled])];
        for (var i = 0; i < points.Count; i++)
        {
            var left = i == 0 ? 0 : points[i].X - points[i - 1].X;
            var right = i == points.Count - 1 ? 0 : points[i + 1].X - points[i].X;
            for (var j = 0; j < weights.Length; j++)
            {
                weights[j][i] = Math.Exp(points[i].Logs[j] - largest) * (left + right) / 2;
            }
        }

        return new([.. Enumerable.Range(0, filled).Select(i => points[Math.Min(i, points.Count - 1)].X)], weights);
    }

    private static double[] Times(double[] one, double[] other)
    {
        var result = new double[one.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = one[i] * other[i];
        }

        return result;
    }

    private static (double One, double Two, double Three) Products(double[] row, double[][] with)
    {
        var rows = MemoryMarshal.Cast<double, Vector<double>>(row);
        ReadOnlySpan<Vector<double>> first = Vectors(with[0]), second = Vectors(with[1]), third = Vectors(with[2]);
        var (one, two, three) = (Vector<double>.Zero, Vector<double>.Zero, Vector<double>.Zero);
        for (var i = 0; i < rows.Length && i < first.Length && i < second.Length && i < third.Length; i++)
        {
            one += rows[i] * first[i];
            two += rows[i] * second[i];
            three += rows[i] * third[i];
        }

        return (Vector.Sum(one), Vector.Sum(two), Vector.Sum(three));

        static ReadOnlySpan<Vector<double>> Vectors(double[] numbers) => MemoryMarshal.Cast<double, Vector<double>>(numbers);
    }

    /// <summary>The likelihood with G integrated out over its prior.</summary>
    private sealed class Marginal
    {
        private readonly CountLikelihood likelihood;
        private readonly double logHalf;
        private readonly double[] spreads;
        private readonly ShareNodes shares;
        private readonly double[] terms = new double[ShareNodesCount];

        public Marginal(BatchEvidence evidence)
        {
            likelihood = new(evidence.Seen);
            logHalf = Math.Log(evidence.Kind.Profile.HalfWarmHours.CelsiusHours);
            shares = ShareNodes.Over((0, Math.PI / 2), ShareNodesCount, evidence.Germinable, HomePriors.FailedBatchShare);
            spreads = Array.ConvertAll(Spreads, log => evidence.Kind.Profile.Spread * Math.Exp(log));
        }

        /// <summary>ln of it at each spread.</summary>
        public double[] LogsAt(double factor) => Array.ConvertAll(spreads, spread =>
        {
            likelihood.LogOver(logHalf + factor, spread, shares, terms);
            return LogSum.Of(terms);
        });
    }
}
