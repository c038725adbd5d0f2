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

    /// <summary>
    /// A firm belief about the share beside the chance of a failed sowing is narrow in a wide window: two nodes for each of its deviations,
    /// up to so many.
    /// </summary>
    private const int GerminableNodesMax = 56;
    private const int PassesMax = 8;

    private const double SpreadReach = 4.5;

    /// <summary>How far from the prior the first grid looks: looks that came all at once put the spread far below it.</summary>
    private const double FirstReach = 8;

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
        var shares = ShareNodes.Over(window.Angle, window.AngleNodes(prior.Germinable), prior.Germinable, prior.Failing);
        var halfPrior = Array.ConvertAll(halves, half => Math.Log(prior.LogHalfDensity(half) + double.Epsilon));
        var grid = new WeighedGrid(halves, spreads, shares);
        var terms = new double[shares.Shares.Length];
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
                (prior.LogSpread.Mean - FirstReach * prior.LogSpread.Deviation,
                    prior.LogSpread.Mean + SpreadReach * prior.LogSpread.Deviation),
                (0, Math.PI / 2));
        }

        public Window Shrunk(WeighedGrid grid) => new(
            grid.LogHalfExtent, grid.LogSpreadExtent, grid.AngleExtent(Angle));

        /// <summary>How many nodes the angle of G needs: a beta distribution of weight w deviates by about 1/(2√w) in it.</summary>
        public int AngleNodes(ShareBelief germinable) =>
            (int)Math.Clamp(4 * Math.Sqrt(germinable.Weight) * (Angle.High - Angle.Low), GerminableNodes, GerminableNodesMax);

        public bool IsAbout(Window other) =>
            Near(LogHalf, other.LogHalf) && Near(LogSpread, other.LogSpread) && Near(Angle, other.Angle);

        private static bool Near((double Low, double High) one, (double Low, double High) other) =>
            one.High - one.Low > 0.75 * (other.High - other.Low);
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
