using System.Numerics;
using System.Runtime.InteropServices;

namespace Chamber.Core.Statistics;

/// <summary>ln of a sum of numbers of which only the logarithms can be held.</summary>
internal static class LogSum
{
    /// <param name="logs">Their logarithms; minus infinity for 0.</param>
    public static double Of(ReadOnlySpan<double> logs)
    {
        var most = double.NegativeInfinity;
        foreach (var one in logs)
        {
            most = Math.Max(most, one);
        }

        return double.IsNegativeInfinity(most) ? most : most + Math.Log(SumOfExp(logs, most));
    }

    private static double SumOfExp(ReadOnlySpan<double> logs, double less)
    {
        var vectors = MemoryMarshal.Cast<double, Vector<double>>(logs);
        var sums = Vector<double>.Zero;
        foreach (var vector in vectors)
        {
            sums += Vector.Exp(vector - new Vector<double>(less));
        }

        var sum = Vector.Sum(sums);
        for (var k = vectors.Length * Vector<double>.Count; k < logs.Length; k++)
        {
            sum += Math.Exp(logs[k] - less);
        }

        return sum;
    }
}
