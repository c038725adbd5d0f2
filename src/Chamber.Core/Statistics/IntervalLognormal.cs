using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace Chamber.Core.Statistics;

/// <summary>
/// Lognormal times in groups with one spread, from intervals, by maximum likelihood (the accelerated failure-time model): half of group g
/// have happened by exp(<see cref="LogMedians"/>[g]). Nothing is missing here; for a share that never happens leave those out first.
/// </summary>
public sealed class IntervalLognormal
{
    private const double Step = 1e-3;
    private const int StepsMax = 5000;
    private const double Tiny = 1e-250;

    /// <summary>A spread under this means that the intervals were too wide to tell any.</summary>
    private const double SpreadMin = 0.005;

    private readonly Matrix<double> covariance;

    private IntervalLognormal(double[] at, double logLikelihood, Matrix<double> covariance)
    {
        LogMedians = at[..^1];
        Spread = Math.Exp(at[^1]);
        LogLikelihood = logLikelihood;
        this.covariance = covariance;
    }

    /// <summary>Mean of the natural logarithm in each group.</summary>
    public IReadOnlyList<double> LogMedians { get; }

    /// <summary>σ of the natural logarithm.</summary>
    public double Spread { get; }

    /// <summary>ln of the likelihood.</summary>
    public double LogLikelihood { get; }

    /// <summary>Standard error of one group's mean logarithm.</summary>
    public double StandardError(int group) => Math.Sqrt(covariance[group, group]);

    /// <summary>Covariance of two groups' mean logarithms.</summary>
    public double Covariance(int group, int other) => covariance[group, other];

    /// <summary>The estimate, or null when these intervals cannot tell a spread.</summary>
    public static IntervalLognormal? Fit(IReadOnlyList<IReadOnlyList<CensoredCount>> groups)
    {
        var likelihood = (Vector<double> at) => LogOf(groups, at);
        double[] start = [.. groups.Select(Rough), Math.Log(0.3)];
        var best = Vector<double>.Build.Dense(start);
        try
        {
            for (var restart = 0; restart < 3; restart++)
            {
                best = NelderMeadSimplex.Minimum(ObjectiveFunction.Value(at => -likelihood(at)), best,
                    Vector<double>.Build.Dense(start.Length, 0.1), 1e-13, StepsMax).MinimizingPoint;
            }
        }
        catch (MaximumIterationsException)
        {
            return null;
        }

        var information = -Curvature(likelihood, best);
        return Math.Exp(best[^1]) < 2 * SpreadMin || information.Determinant() is not > 0 ? null
            : new([.. best], likelihood(best), information.Inverse());
    }

    private static double Rough(IReadOnlyList<CensoredCount> counts)
    {
        var (sum, weight) = (0.0, 0.0);
        foreach (var (from, to, count) in counts)
        {
            sum += count * Math.Log(to is { } end ? Math.Max((from + end) / 2, Tiny) : Math.Max(from, Tiny));
            weight += count;
        }

        return weight > 0 ? sum / weight : throw new ArgumentException("A group is empty.", nameof(counts));
    }

    private static double LogOf(IReadOnlyList<IReadOnlyList<CensoredCount>> groups, Vector<double> at)
    {
        var spread = Math.Exp(Math.Max(at[^1], Math.Log(SpreadMin)));
        var sum = 0.0;
        for (var group = 0; group < groups.Count; group++)
        {
            foreach (var (from, to, count) in groups[group])
            {
                var low = from > 0 ? (Math.Log(from) - at[group]) / spread : double.NegativeInfinity;
                var share = to is { } end ? StandardNormal.Between(low, (Math.Log(end) - at[group]) / spread) : StandardNormal.Cdf(-low);
                sum += count * Math.Log(Math.Max(share, Tiny));
            }
        }

        return sum;
    }

    /// <summary>Second differences.</summary>
    private static Matrix<double> Curvature(Func<Vector<double>, double> function, Vector<double> at)
    {
        return Matrix<double>.Build.Dense(at.Count, at.Count,
            (i, j) => (Moved(i, 1, j, 1) - Moved(i, 1, j, -1) - Moved(i, -1, j, 1) + Moved(i, -1, j, -1)) / (4 * Step * Step));

        double Moved(int i, int first, int j, int second)
        {
            var moved = at.Clone();
            moved[i] += first * Step;
            moved[j] += second * Step;
            return function(moved);
        }
    }
}
