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
        var densities = Array.ConvertAll(Spreads, spread.Density);
        var (area, mean, square, width, widthSquare) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (var i = 0; i < at.Length; i++)
        {
            var (row, spreads, density) = (weights[i], Spreads, half.Density(at[i]));
            var (here, x) = (0.0, at[i]);
            for (var j = 0; j < row.Length && j < densities.Length && j < spreads.Length; j++)
            {
                var (each, log) = (row[j] * density * densities[j], spreads[j]);
                here += each;
                width += each * log;
                widthSquare += each * log * log;
            }

            area += here;
            mean += here * x;
            square += here * x * x;
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
        var weights = new double[points.Count][];
        for (var i = 0; i < weights.Length; i++)
        {
            var left = i == 0 ? 0 : points[i].X - points[i - 1].X;
            var right = i == weights.Length - 1 ? 0 : points[i + 1].X - points[i].X;
            weights[i] = Array.ConvertAll(points[i].Logs, log => Math.Exp(log - largest) * (left + right) / 2);
        }

        return new([.. points.Select(point => point.X)], weights);
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
            var largest = terms.Max();
            return largest + Math.Log(terms.Sum(term => Math.Exp(term - largest)));
        });
    }
}
