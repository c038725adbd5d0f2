using Chamber.Core.Forecasts;
using Chamber.Core.Statistics;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Tests.Forecasts;

public class EmergenceBeliefTests
{
    private static readonly EmergencePrior Prior = new([new(0.95, Math.Log(2000), 0.22), new(0.05, Math.Log(2000), 0.55)],
        new(1, Math.Log(0.22), 0.25), ShareBelief.Around(0.85, 10));

    /// <summary>About minus the log likelihood that each seed adds: keeps the product within what a double can hold.</summary>
    private const double LikelihoodOfOneSeed = 2;

    public static TheoryData<string, int, (double, int)[]> Looks => new()
    {
        { "nobody has looked", 12, [] },
        { "nothing by the time most are up", 12, [(1500, 0), (2300, 0)] },
        { "long overdue", 12, [(6000, 0)] },
        { "a few up", 12, [(1500, 0), (1900, 1), (2200, 5)] },
        { "all up between two looks", 12, [(1800, 0), (2500, 12)] },
        { "a big sowing, looked at often", 200,
            [(1300, 2), (1500, 9), (1700, 31), (1900, 70), (2100, 110), (2300, 139), (2600, 160), (3500, 171)] },
        { "much slower than the table", 60, [(3500, 0), (4000, 8), (4600, 29), (5200, 45)] },
    };

    [Theory]
    [MemberData(nameof(Looks))]
    public void The_quadrature_equals_a_dense_grid_to_three_digits(string what, int seeds, (double, int)[] looks)
    {
        var seen = SeenCounts.Of(seeds, looks);
        var belief = EmergenceBelief.After(Prior, seen);
        var dense = DenseGrid(seen);

        Assert.True(belief.Cells.Length > 20, what);
        AssertNear(dense.LogHalf, belief.LogHalf);
        AssertNear(dense.Spread, belief.Spread);
        AssertNear(dense.Germinable, belief.Germinable);
    }

    [Fact]
    public void Without_a_look_the_belief_is_the_prior()
    {
        var belief = EmergenceBelief.After(Prior, SeenCounts.Nothing(12));

        Assert.Equal(Prior.LogHalfMoments().Mean, belief.LogHalf.Mean, 1e-4);
        Assert.Equal(Prior.LogHalfMoments().Deviation, belief.LogHalf.Deviation, 1e-3);
        Assert.Equal(Prior.ExpectedShare, belief.Germinable.Mean, 1e-3);
    }

    [Fact]
    public void Silence_speaks_for_slow_seed_first_and_for_dead_seed_later()
    {
        var before = EmergenceBelief.After(Prior, SeenCounts.Nothing(12));
        var late = EmergenceBelief.After(Prior, SeenCounts.Of(12, [(2500, 0)]));
        var overdue = EmergenceBelief.After(Prior, SeenCounts.Of(12, [(9000, 0)]));

        Assert.True(late.LogHalf.Mean > before.LogHalf.Mean + 0.2);
        Assert.True(overdue.Germinable.Mean < late.Germinable.Mean);
    }

    [Fact]
    public void A_look_that_changes_nothing_between_two_others_changes_nothing()
    {
        var two = EmergenceBelief.After(Prior, SeenCounts.Of(12, [(1500, 0), (2300, 4)]));
        var more = EmergenceBelief.After(Prior, SeenCounts.Of(12, [(900, 0), (1500, 0), (2300, 4)]));

        Assert.Equal(two.LogHalf.Mean, more.LogHalf.Mean, 1e-9);
    }

    /// <summary>A brute sum over a grid many times as dense, without any of the shortcuts.</summary>
    private static ((double Mean, double Deviation) LogHalf, (double Mean, double Deviation) Spread,
        (double Mean, double Deviation) Germinable) DenseGrid(SeenCounts seen)
    {
        var likelihood = new CountLikelihood(seen);
        var shares = Enumerable.Range(0, 100).Select(i => (i + 0.5) / 100).Select(g => (g, SharePrior(g))).ToArray();
        var (half, spread, share) = (new Moments(), new Moments(), new Moments());
        for (var m = Math.Log(2000) - 2.5; m < Math.Log(2000) + 2.5; m += 0.02)
        {
            for (var s = Math.Log(0.22) - 1.25; s < Math.Log(0.22) + 1.25; s += 0.04)
            {
                var timing = Normal.PDF(Prior.LogSpread.Mean, Prior.LogSpread.Deviation, s) * Prior.LogHalf.Sum(
                    term => term.Weight * Normal.PDF(term.Mean, term.Deviation, m));
                foreach (var (g, density) in shares)
                {
                    var weight = timing * density * Math.Exp(likelihood.Log(m, Math.Exp(s), g) + LikelihoodOfOneSeed * seen.Seeds);
                    half.Add(weight, m);
                    spread.Add(weight, Math.Exp(s));
                    share.Add(weight, g);
                }
            }
        }

        return (half.Result, spread.Result, share.Result);
    }

    private static double SharePrior(double g) =>
        (1 - Prior.Failing) * Beta.PDF(Prior.Germinable.Good, Prior.Germinable.Bad, g)
            + Prior.Failing * Beta.PDF(HomePriors.FailedBatch.Good, HomePriors.FailedBatch.Bad, g);

    private static void AssertNear((double Mean, double Deviation) expected, (double Mean, double Deviation) actual)
    {
        Assert.Equal(expected.Mean, actual.Mean, Math.Max(0.001 * Math.Abs(expected.Mean), 0.005 * expected.Deviation));
        Assert.Equal(expected.Deviation, actual.Deviation, 0.005 * expected.Deviation);
    }

    private sealed class Moments
    {
        private double weight;
        private double sum;
        private double square;

        public (double Mean, double Deviation) Result => (sum / weight, Math.Sqrt(square / weight - sum / weight * (sum / weight)));

        public void Add(double each, double value)
        {
            weight += each;
            sum += each * value;
            square += each * value * value;
        }
    }
}
