using Chamber.Core.Forecasts.Learning;
using MathNet.Numerics.LinearAlgebra;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>The joint distribution of factors against the textbook: precisions add up, and their inverse is the covariance (Box and Tiao,
/// Bayesian Inference in Statistical Analysis, 1973, section 2.7).</summary>
public sealed class FactorFieldTests
{
    private static readonly Factor[] Factors =
    [
        new(FactorKind.Home, "home", 0, 0.12), new(FactorKind.Crop, "tomato", 0.1, 0.2), new(FactorKind.Crop, "onion", 0, 0.16),
        new(FactorKind.Method, "CoveredMix", -0.2, 0.1), new(FactorKind.Base, "tomato", 0, 1.5), new(FactorKind.Lot, "old", 0.05, 0.25),
        new(FactorKind.Lot, "new", 0, 0.25), new(FactorKind.Lot, "saved", 0, 0.3),
    ];

    private static readonly double[][] Sums =
    [
        [1, 1, 0, 1, 0.04, 1, 0, 0], [1, 1, 0, 0, 0.02, 0, 1, 0], [1, 0, 1, 1, 0, 0, 0, 1], [1, 0, 1, 0, 0, 0, 0, 0.5],
        [1, 1, 0, 1, 0, 0, 0, 0], [1, 1, 0, 0, 0.01, 1, 0, 0], [0, 0, 0, 0, 0, 0, 1, 0],
    ];

    [Fact]
    public void What_is_said_and_taken_back_leaves_what_one_inversion_gives()
    {
        var random = new Random(41);
        var field = new FactorField();
        var (precision, pull) = (Matrix<double>.Build.Dense(Factors.Length, Factors.Length), Vector<double>.Build.Dense(Factors.Length));
        for (var i = 0; i < Factors.Length; i++)
        {
            precision[i, i] = 1 / Factors[i].PriorDeviation / Factors[i].PriorDeviation;
            pull[i] = Factors[i].PriorMean * precision[i, i];
        }

        for (var round = 0; round < 60; round++)
        {
            var times = Sums[round % Sums.Length];
            var at = field.Join(Of(times));
            var (said, mean) = (10 + 40 * random.NextDouble(), random.NextDouble() - 0.5);

            // Every third is taken back at once and said otherwise, as a batch does.
            if (round % 3 == 0)
            {
                field.Learn(at, said, said * mean);
                field.Learn(at, -said, -said * mean);
                mean += 0.1;
            }

            field.Learn(at, said, said * mean);
            var of = Vector<double>.Build.DenseOfArray(times);
            precision += said * of.OuterProduct(of);
            pull += said * mean * of;
        }

        var covariance = precision.Inverse();
        var means = covariance * pull;
        foreach (var times in Sums.Append([0, 0, 0, 0, 0, 1, 0, 0]).Append([0, 0, 0, 0, 1, 0, 0, 1]))
        {
            var of = Vector<double>.Build.DenseOfArray(times);
            var (mean, variance) = field.SumOf(Of(times));
            Assert.Equal(of * means, mean, 1e-9);
            Assert.Equal(of * covariance * of, variance, 1e-9);
        }

        // Without the last that was said of one sum, what is left of another, of the same lot and of another.
        Placed[] last = field.Join(Of(Sums[0]));
        var less = Vector<double>.Build.DenseOfArray(Sums[0]);
        var rest = (precision - 7 * less.OuterProduct(less)).Inverse();
        foreach (var times in Sums)
        {
            var of = Vector<double>.Build.DenseOfArray(times);
            var (mean, variance) = field.SumWithout(Of(times), last, 7, 7 * 0.3);
            Assert.Equal(of * (rest * (pull - 7 * 0.3 * less)), mean, 1e-9);
            Assert.Equal(of * rest * of, variance, 1e-9);
        }
    }

    private static Part[] Of(double[] times) =>
        [.. Factors.Select((factor, i) => new Part(factor, times[i])).Where(part => part.Times != 0)];
}
