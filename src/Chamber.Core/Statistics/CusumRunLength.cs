using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Statistics;

/// <summary>How long a CUSUM runs on the average before it signals, and the limit for a wanted run length.</summary>
public static class CusumRunLength
{
    private const int States = 201;

    /// <summary>
    /// The average run length of a one-sided CUSUM of independent normal values, by the Markov chain of Brook &amp; Evans (1972, Biometrika
    /// 59:539-549).
    /// </summary>
    /// <param name="allowance">k in standard deviations, positive.</param>
    /// <param name="limit">h in standard deviations, positive.</param>
    /// <param name="shift">How far the mean lies from the target, in standard deviations.</param>
    public static double OneSided(double allowance, double limit, double shift = 0)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(allowance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limit);
        var width = 2 * limit / (2 * States - 1);
        var staying = Matrix<double>.Build.Dense(States, States, (from, to) =>
        {
            var centre = (to - from) * width + allowance - shift;
            return to == 0
                ? Normal.CDF(0, 1, centre + width / 2)
                : Normal.CDF(0, 1, centre + width / 2) - Normal.CDF(0, 1, centre - width / 2);
        });
        var lengths = (Matrix<double>.Build.DenseIdentity(States) - staying).Solve(Vector<double>.Build.Dense(States, 1));
        return lengths[0];
    }

    /// <summary>The same for both sides together: 1/L = 1/L⁺ + 1/L⁻ (van Dobben de Bruyn 1968, Cumulative Sum Tests).</summary>
    public static double TwoSided(double allowance, double limit, double shift = 0) =>
        1 / (1 / OneSided(allowance, limit, shift) + 1 / OneSided(allowance, limit, -shift));

    /// <summary>
    /// The limit h at which a one-sided CUSUM of values that hang together from one to the next has a wanted average run length.
    /// In sums over many steps such values act like independent ones of their long-run variance v, so that the run length is that of
    /// Brownian motion with drift -k: (e^b - 1 - b) v/(2k²), b = 2kh/v (Siegmund 1985, Sequential Analysis, eq. 2.64 with no correction for
    /// the discrete steps, which errs to longer runs).
    /// </summary>
    /// <param name="allowance">k, positive.</param>
    /// <param name="longRunVariance">v: the variance of the sum of n values is about n·v; positive.</param>
    /// <param name="runLength">How many steps between two false signals, positive.</param>
    public static double LimitFor(double allowance, double longRunVariance, double runLength)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(allowance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(longRunVariance);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(runLength);
        var wanted = runLength * 2 * allowance * allowance / longRunVariance;
        var b = Math.Log(1 + wanted) + 1;
        for (var i = 0; i < 50; i++)
        {
            // b = ln(1 + b + wanted) is a contraction for every wanted above 0.
            b = Math.Log(1 + b + wanted);
        }

        return b * longRunVariance / (2 * allowance);
    }
}
