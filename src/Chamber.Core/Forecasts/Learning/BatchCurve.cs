namespace Chamber.Core.Forecasts.Learning;

/// <summary>
/// How likely one batch's looks are as a function of that ln θ50 less the table's, with σ and G integrated out: taken once, on
/// wide steps everywhere and narrow ones where the weight lies.
/// </summary>
internal sealed class BatchCurve
{
    private const double WidestFactor = 2.4;
    private const int WideSteps = 49;
    private const int NarrowSteps = 49;
    private const int SpreadNodes = 9;
    private const int ShareNodesCount = 12;
    private const double SpreadReach = 3.5;

    /// <summary>As wide as anything that is believed beforehand: only used to place the narrow steps.</summary>
    private static readonly NormalTerm Anywhere = new(1, 0, 0.6);

    private readonly double[] at;
    private readonly double[] weights;

    private BatchCurve(double[] at, double[] weights)
    {
        this.at = at;
        this.weights = weights;
    }

    public static BatchCurve Of(BatchEvidence evidence)
    {
        var take = new Marginal(evidence);
        var points = Steps(-WidestFactor, WidestFactor, WideSteps).Select(x => (X: x, Log: take.LogAt(x))).ToList();
        for (var pass = 0; pass < 2; pass++)
        {
            var (_, mean, variance) = Build(points).Moments(Anywhere);
            var half = 6 * Math.Max(Math.Sqrt(variance), pass == 0 ? 0.05 : 0.002);
            points.AddRange(Steps(mean - half, mean + half, NarrowSteps).Select(x => (x, take.LogAt(x))));
            points.Sort((one, other) => one.X.CompareTo(other.X));
        }

        return Build(points);
    }

    /// <summary>The likelihood times a normal distribution: its area, and the mean and variance of what it covers.</summary>
    public (double Area, double Mean, double Variance) Moments(NormalTerm term)
    {
        var (area, mean, square) = (0.0, 0.0, 0.0);
        for (var i = 0; i < at.Length; i++)
        {
            var here = weights[i] * term.Density(at[i]);
            area += here;
            mean += here * at[i];
            square += here * at[i] * at[i];
        }

        if (area <= 0)
        {
            return (0, term.Mean, term.Deviation * term.Deviation);
        }

        mean /= area;
        return (area, mean, Math.Max(square / area - mean * mean, 1e-10));
    }

    private static double[] Steps(double low, double high, int count) =>
        [.. Enumerable.Range(0, count).Select(i => low + (high - low) * i / (count - 1))];

    private static BatchCurve Build(List<(double X, double Log)> points)
    {
        var largest = points.Max(point => point.Log);
        var weights = new double[points.Count];
        for (var i = 0; i < weights.Length; i++)
        {
            var left = i == 0 ? 0 : points[i].X - points[i - 1].X;
            var right = i == weights.Length - 1 ? 0 : points[i + 1].X - points[i].X;
            weights[i] = Math.Exp(points[i].Log - largest) * (left + right) / 2;
        }

        return new([.. points.Select(point => point.X)], weights);
    }

    /// <summary>The likelihood with σ and G integrated out over their priors.</summary>
    private sealed class Marginal
    {
        private readonly CountLikelihood likelihood;
        private readonly double logHalf;
        private readonly (double Spread, double LogWeight)[] spreads;
        private readonly ShareNodes shares;
        private readonly double[] terms = new double[ShareNodesCount];

        public Marginal(BatchEvidence evidence)
        {
            likelihood = new(evidence.Seen);
            logHalf = Math.Log(evidence.Kind.Profile.HalfWarmHours.CelsiusHours);
            shares = ShareNodes.Over((0, Math.PI / 2), ShareNodesCount, evidence.Germinable, HomePriors.FailedBatchShare);
            var spread = EmergencePrior.LogSpreadOf(evidence.Kind.Profile);
            spreads = [.. Steps(-SpreadReach, SpreadReach, SpreadNodes)
                .Select(z => (Math.Exp(spread.Mean + z * spread.Deviation), -0.5 * z * z))];
        }

        public double LogAt(double factor)
        {
            var (largest, sum) = (double.NegativeInfinity, 0.0);
            foreach (var (spread, logWeight) in spreads)
            {
                likelihood.LogOver(logHalf + factor, spread, shares, terms);
                foreach (var term in terms)
                {
                    var log = term + logWeight;
                    if (log > largest)
                    {
                        sum = sum * Math.Exp(largest - log) + 1;
                        largest = log;
                    }
                    else
                    {
                        sum += Math.Exp(log - largest);
                    }
                }
            }

            return largest + Math.Log(sum);
        }
    }
}
