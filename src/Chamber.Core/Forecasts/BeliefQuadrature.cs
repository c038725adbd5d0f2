using Chamber.Core.Statistics;
using MathNet.Numerics;
using MathNet.Numerics.Integration;

namespace Chamber.Core.Forecasts;

/// <summary>
/// Lays a grid over (ln θ50, ln σ, G), weighs it by prior and likelihood, and draws it together around where the weight lies
/// until it is fine enough. Equal steps serve the first two, whose densities fade to nothing at both ends (there the trapezoidal
/// rule converges geometrically: L. N. Trefethen and J. A. C. Weideman, SIAM Rev. 56 (2014) 385-458); Gauss-Legendre on the angle
/// x with G = sin²(x) serves the share, whose density may end abruptly.
/// </summary>
internal static class BeliefQuadrature
{
    private const int LogHalfNodes = 41;
    private const int LogSpreadNodes = 11;
    private const int GerminableNodes = 20;
    private const int PassesMax = 8;
    private const double AngleReach = 8;

    /// <summary>Far, because the chance of an odd batch gives ln θ50 long tails, in which the weight of an overdue batch lies.</summary>
    private const double LogHalfReach = 8;

    private const double SpreadReach = 4.5;

    public static EmergenceBelief Solve(EmergencePrior prior, SeenCounts seen)
    {
        var likelihood = new CountLikelihood(seen);
        var window = Window.Around(prior);
        for (var pass = 1; ; pass++)
        {
            var grid = Weigh(prior, likelihood, window);
            var next = seen.Intervals.Length == 0 && seen.LastWarmHours <= 0 ? window : window.Shrunk(grid);
            if (pass == PassesMax || next.IsAbout(window))
            {
                return grid.ToBelief(seen);
            }

            window = next;
        }
    }

    private static WeighedGrid Weigh(EmergencePrior prior, CountLikelihood likelihood, Window window)
    {
        var halves = Steps(window.LogHalf, LogHalfNodes);
        var spreads = Steps(window.LogSpread, LogSpreadNodes);
        var shares = ShareNodes.Over(window.Angle, GerminableNodes, prior.Germinable, prior.Failing);
        var halfPrior = Array.ConvertAll(halves, half => Math.Log(prior.LogHalfDensity(half) + double.Epsilon));
        var grid = new WeighedGrid(halves, spreads, shares);
        var terms = new double[GerminableNodes];
        for (var j = 0; j < spreads.Length; j++)
        {
            var spread = Math.Exp(spreads[j]);
            var z = (spreads[j] - prior.LogSpread.Mean) / prior.LogSpread.Deviation;
            for (var i = 0; i < halves.Length; i++)
            {
                likelihood.LogOver(halves[i], spread, shares, terms);
                grid.Put(i, j, halfPrior[i] - 0.5 * z * z, terms);
            }
        }

        grid.Normalise();
        return grid;
    }

    private static double[] Steps((double Low, double High) range, int count) =>
        [.. Enumerable.Range(0, count).Select(i => range.Low + (range.High - range.Low) * i / (count - 1))];

    /// <summary>The box over which the grid lies: ln θ50, ln σ, and the angle of G.</summary>
    internal readonly record struct Window((double Low, double High) LogHalf, (double Low, double High) LogSpread,
        (double Low, double High) Angle)
    {
        public static Window Around(EmergencePrior prior)
        {
            return new(
                (prior.LogHalf.Min(term => term.Mean - SpreadReach * term.Deviation),
                    prior.LogHalf.Max(term => term.Mean + SpreadReach * term.Deviation)),
                (prior.LogSpread.Mean - SpreadReach * prior.LogSpread.Deviation,
                    prior.LogSpread.Mean + SpreadReach * prior.LogSpread.Deviation),
                (0, Math.PI / 2));
        }

        public Window Shrunk(WeighedGrid grid) => new(
            Draw(LogHalf, grid.LogHalfMoments, LogHalfNodes, LogHalfReach),
            Draw(LogSpread, grid.LogSpreadMoments, LogSpreadNodes, SpreadReach),
            Draw(Angle, grid.AngleMoments, GerminableNodes, AngleReach));

        public bool IsAbout(Window other) =>
            Near(LogHalf, other.LogHalf) && Near(LogSpread, other.LogSpread) && Near(Angle, other.Angle);

        private static bool Near((double Low, double High) one, (double Low, double High) other) =>
            one.High - one.Low > 0.75 * (other.High - other.Low);

        private static (double Low, double High) Draw((double Low, double High) range, (double Mean, double Deviation) seen,
            int nodes, double reach)
        {
            // A peak narrower than the step hides its width, so one pass never shrinks the window below a few steps.
            var half = reach * Math.Max(seen.Deviation, 0.5 * (range.High - range.Low) / (nodes - 1));
            return (Math.Max(range.Low, seen.Mean - half), Math.Min(range.High, seen.Mean + half));
        }
    }
}

/// <summary>Nodes over the germinable share with their prior weights.</summary>
internal sealed class ShareNodes
{
    private ShareNodes(double[] angles, double[] shares, double[] logPrior)
    {
        Angles = angles;
        Shares = shares;
        LogPrior = logPrior;
        LogShares = Array.ConvertAll(shares, Math.Log);
    }

    public double[] Angles { get; }

    public double[] Shares { get; }

    /// <summary>ln of prior density times the node's quadrature weight.</summary>
    public double[] LogPrior { get; }

    public double[] LogShares { get; }

    public static ShareNodes Over((double Low, double High) angle, int count, ShareBelief prior, double failing)
    {
        var rule = new GaussLegendreRule(angle.Low, angle.High, count);
        var shares = new double[count];
        var logPrior = new double[count];
        for (var k = 0; k < count; k++)
        {
            var (sine, cosine) = Math.SinCos(rule.GetAbscissa(k));
            shares[k] = sine * sine;
            var density = (1 - failing) * Density(prior, shares[k]) + failing * Density(HomePriors.FailedBatch, shares[k]);
            logPrior[k] = Math.Log(rule.GetWeight(k) * sine * cosine * density + double.Epsilon);
        }

        return new([.. Enumerable.Range(0, count).Select(rule.GetAbscissa)], shares, logPrior);
    }

    private static double Density(ShareBelief belief, double share) =>
        Math.Exp((belief.Good - 1) * Math.Log(share) + (belief.Bad - 1) * Math.Log(1 - share) - SpecialFunctions.BetaLn(
            belief.Good, belief.Bad));
}
