using System.Numerics;
using System.Runtime.InteropServices;
using Chamber.Core.Statistics;

namespace Chamber.Core.Forecasts;

/// <summary>
/// The likelihood of interval-censored counts with a share that never comes up:
/// ∏ [G (F(b) - F(a))]^n · (1 - G F(last))^(the rest), F lognormal in warm-hours.
/// </summary>
internal sealed class CountLikelihood(SeenCounts seen)
{
    /// <summary>Keeps an interval that a curve calls impossible from becoming minus infinity.</summary>
    private const double Tiny = 1e-250;

    private readonly int rest = seen.Seeds - seen.Up;
    private readonly double logLast = seen.LastWarmHours > 0 ? Math.Log(seen.LastWarmHours) : double.NegativeInfinity;

    /// <summary>ln of likelihood times prior weight, at each node of the share.</summary>
    public void LogOver(double logHalf, double spread, ShareNodes shares, double[] result)
    {
        var timing = Timing(logHalf, spread);
        var last = StandardNormal.Cdf((logLast - logHalf) / spread);
        var none = rest == 0 || last == 0 ? 0 : rest;
        ReadOnlySpan<Vector<double>> priors = Vectors(shares.LogPrior), logs = Vectors(shares.LogShares), each = Vectors(shares.Shares);
        var sums = MemoryMarshal.Cast<double, Vector<double>>(result.AsSpan());
        for (var k = 0; k < sums.Length; k++)
        {
            sums[k] = priors[k] + logs[k] * seen.Up + Vector.Log(Vector<double>.One - each[k] * last) * none + new Vector<double>(timing);
        }

        for (var k = sums.Length * Vector<double>.Count; k < result.Length; k++)
        {
            result[k] = shares.LogPrior[k] + timing + seen.Up * shares.LogShares[k] + none * Math.Log(1 - shares.Shares[k] * last);
        }

        static ReadOnlySpan<Vector<double>> Vectors(double[] numbers) => MemoryMarshal.Cast<double, Vector<double>>(numbers);
    }

    /// <summary>ln of the likelihood at one point.</summary>
    public double Log(double logHalf, double spread, double germinable)
    {
        var last = StandardNormal.Cdf((logLast - logHalf) / spread);
        return Timing(logHalf, spread)
            + (seen.Up == 0 ? 0 : seen.Up * Math.Log(germinable))
            + (rest == 0 ? 0 : rest * Math.Log(Math.Max(1 - germinable * last, Tiny)));
    }

    private double Timing(double logHalf, double spread)
    {
        var sum = 0.0;
        var (end, tail) = (double.NaN, 0.0);
        foreach (var interval in seen.Intervals)
        {
            // Most intervals begin where the one before ends.
            var from = interval.LogFrom == end ? tail : StandardNormal.Tail((interval.LogFrom - logHalf) / spread);
            (end, tail) = (interval.LogTo, StandardNormal.Tail((interval.LogTo - logHalf) / spread));
            var share = interval.LogFrom > logHalf ? from - tail : interval.LogTo > logHalf ? 1 - tail - from : tail - from;
            sum += interval.Count * Math.Log(Math.Max(share, Tiny));
        }

        return sum;
    }
}
