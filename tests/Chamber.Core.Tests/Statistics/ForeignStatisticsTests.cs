using System.Globalization;
using Chamber.Core.Statistics;
using Chamber.Testing;

namespace Chamber.Core.Tests.Statistics;

/// <summary>The same numbers asked of SciPy and R while the tests run.</summary>
[Trait(Tier.Name, Tier.Whole)]
public class ForeignStatisticsTests
{
    private static readonly (SeedCount First, SeedCount Second)[] Pairs =
    [
        (new(3, 4), new(1, 4)), (new(11, 14), new(7, 15)), (new(56, 70), new(48, 80)), (new(0, 10), new(10, 10)),
        (new(5, 5), new(9, 12)), (new(0, 8), new(0, 9)), (new(30, 40), new(31, 50)), (new(190, 200), new(171, 200)),
    ];

    [Fact]
    public async Task Fisher_and_the_difference_agree_with_R()
    {
        var script = string.Concat(Pairs.Select(pair =>
            $"f <- fisher.test(matrix(c({pair.First.Up},{pair.First.Seeds - pair.First.Up},{pair.Second.Up},{pair.Second.Seeds - pair.Second.Up}),2));"
            + $"a <- suppressWarnings(prop.test({pair.First.Up},{pair.First.Seeds},correct=FALSE)$conf.int); b <- "
                + $"suppressWarnings(prop.test({pair.Second.Up},{pair.Second.Seeds},correct=FALSE)$conf.int);"
            + $"p <- {pair.First.Up}/{pair.First.Seeds}; q <- {pair.Second.Up}/{pair.Second.Seeds};"
            + "cat(sprintf('%.12g ', c(f$p.value, p-q-sqrt((p-a[1])^2+(b[2]-q)^2), p-q+sqrt((a[2]-p)^2+(q-b[1])^2))), '\\n')\n"));
        var lines = Lines(await Oracle.R(script));
        foreach (var (pair, theirs) in Pairs.Zip(lines))
        {
            var fisher = FisherExact.Of(pair.First, pair.Second);
            var difference = ShareDifference.Of(pair.First, pair.Second);
            Near(theirs[0], fisher.PValue, 1e-9);
            Near(theirs[1], difference.Low, 1e-9);
            Near(theirs[2], difference.High, 1e-9);
        }
    }

    [Fact]
    public async Task The_odds_and_their_exact_interval_agree_with_SciPy()
    {
        var script = "from scipy.stats.contingency import odds_ratio\n" + string.Concat(Pairs.Select(pair =>
            $"r=odds_ratio([[{pair.First.Up},{pair.First.Seeds - pair.First.Up}],[{pair.Second.Up},{pair.Second.Seeds - pair.Second.Up}]]); c=r.confidence_interval(0.95)\n"
            + "print(*(repr(float(x)) for x in (r.statistic, c.low, c.high)))\n"));
        foreach (var (pair, theirs) in Pairs.Zip(Lines(await Oracle.SciPy(script))))
        {
            var fisher = FisherExact.Of(pair.First, pair.Second);
            var nothing = pair.First.Up + pair.Second.Up == 0;
            Near(nothing ? 0 : theirs[0], fisher.OddsRatio, 1e-6 * Scale(theirs[0]));
            Near(theirs[1], fisher.OddsLow, 1e-6 * Scale(theirs[1]));
            Near(theirs[2], fisher.OddsHigh, 1e-6 * Scale(theirs[2]));
        }
    }

    [Fact]
    public async Task Tails_of_binomial_and_beta_binomial_agree_with_SciPy()
    {
        (int Wanted, int Seeds, double Good, double Bad)[] cases =
            [(12, 19, 17, 5), (1, 4, 0.5, 0.5), (72, 98, 9, 3), (104, 145, 74, 26), (3, 3, 2.5, 0.7), (300, 900, 40, 60)];
        var script = "from scipy.stats import binom, betabinom\n" + string.Concat(cases.Select(one => string.Create(
            CultureInfo.InvariantCulture,
            $"print(repr(float(binom.sf({one.Wanted - 1},{one.Seeds},{one.Good}/({one.Good}+{one.Bad})))), "
                + $"repr(float(betabinom.sf({one.Wanted - 1},{one.Seeds},{one.Good},{one.Bad}))))\n")));
        foreach (var (one, theirs) in cases.Zip(Lines(await Oracle.SciPy(script))))
        {
            var belief = new ShareBelief(one.Good, one.Bad);
            Near(theirs[0], SowCount.ChanceOfAtLeast(one.Wanted, one.Seeds, belief.Mean), 1e-10);
            Near(theirs[1], belief.ChanceOfAtLeast(one.Wanted, one.Seeds), 1e-9);
            Near(theirs[1], belief.MeanOf(share => SowCount.ChanceOfAtLeast(one.Wanted, one.Seeds, share)), 1e-9);
        }
    }

    [Fact]
    public async Task Quantiles_and_intervals_agree_with_SciPy()
    {
        SeedCount[] counts = [new(8, 10), new(0, 20), new(20, 20), new(42, 50), new(1, 29)];
        var script = "from scipy.stats import binomtest, beta\n" + string.Concat(counts.Select(count =>
            $"b=binomtest({count.Up},{count.Seeds}); w=b.proportion_ci(0.9,'wilson'); e=b.proportion_ci(0.9,'exact'); "
            + $"print(*(repr(float(x)) for x in (w.low,w.high,e.low,e.high,beta.ppf(0.2,{count.Up}+1,{count.Seeds - count.Up}+1))))\n"));
        foreach (var (count, theirs) in counts.Zip(Lines(await Oracle.SciPy(script))))
        {
            var (wilson, exact) = (BinomialInterval.Wilson(count, 0.9), BinomialInterval.ClopperPearson(count, 0.9));
            Near(theirs[0], wilson.Low, 1e-9);
            Near(theirs[1], wilson.High, 1e-9);
            Near(theirs[2], exact.Low, 1e-9);
            Near(theirs[3], exact.High, 1e-9);
            Near(theirs[4], new ShareBelief(count.Up + 1, count.Seeds - count.Up + 1).Quantile(0.2), 1e-9);
        }
    }

    [Fact]
    public async Task Losses_and_cells_agree_with_a_sum_over_every_outcome_in_SciPy()
    {
        // Seeds up are beta-binomial; of those up, or of the cells that hold one, a binomial share lives. Cells by quadrature over the
        // share.
        const string script = """
            from scipy.stats import betabinom, binom, beta
            from scipy.integrate import quad
            print(repr(float(sum(betabinom.pmf(x, 24, 17, 5) * binom.sf(11, x, 0.9) for x in range(25)))))
            print(repr(quad(lambda p: binom.sf(11, 15, (1-(1-p)**2)*0.9) * beta.pdf(p, 17, 5), 0, 1, epsabs=1e-12)[0]))
            """;
        var theirs = Lines(await Oracle.SciPy(script));
        var belief = new ShareBelief(17, 5);
        Near(theirs[0][0], belief.MeanOf(share => SowCount.ChanceOfAtLeast(12, 24, share * 0.9)), 1e-9);
        Near(theirs[1][0], belief.MeanOf(share => SowCount.ChanceOfAtLeast(12, 15, (1 - Math.Pow(1 - share, 2)) * 0.9)), 1e-9);
    }

    [Fact]
    public async Task So_many_seeds_settle_it_four_times_in_five()
    {
        // Exact power of Fisher's test by SciPy, over every outcome, at the size this program names.
        var seeds = SampleSize.ToTellApart(11 / 14.0, 7 / 15.0)!.Value;
        var script = string.Create(CultureInfo.InvariantCulture, $"""
            from scipy.stats import binom, fisher_exact
            n = {seeds}
            power = sum(binom.pmf(i, n, 11/14) * binom.pmf(j, n, 7/15) for i in range(n+1) for j in range(n+1)
                        if binom.pmf(i, n, 11/14) * binom.pmf(j, n, 7/15) > 1e-9 and fisher_exact([[i, n-i], [j, n-j]])[1] <= 0.05)
            print(power)
            """);
        Assert.InRange(Lines(await Oracle.SciPy(script))[0][0], 0.78, 0.83);
    }

    private static double[][] Lines(string output) =>
        [.. output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number).ToArray())];

    private static double Scale(double theirs) => double.IsFinite(theirs) ? Math.Max(1, theirs) : 1;

    private static double Number(string text) => text switch
    {
        "Inf" or "inf" => double.PositiveInfinity,
        "nan" => double.NaN,
        _ => double.Parse(text, CultureInfo.InvariantCulture),
    };

    private static void Near(double theirs, double ours, double tolerance)
    {
        if (double.IsInfinity(theirs))
        {
            Assert.Equal(theirs, ours);
        }
        else
        {
            Assert.Equal(theirs, ours, tolerance);
        }
    }
}
