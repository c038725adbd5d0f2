using System.Globalization;
using Chamber.Core.Statistics;
using Chamber.Testing;

namespace Chamber.Core.Tests.Statistics;

/// <summary>Against published examples (tests/cases/survival/README.md) and R's package survival, asked while the tests run.</summary>
public class SurvivalTests
{
    private static readonly (string Group, double Weeks, bool Relapse)[] Freireich =
        [.. Rows("freireich-1963.csv").Select(cells => (cells[0], Number(cells[1]), cells[2] == "1"))];

    private static readonly CensoredCount[] Radiotherapy =
        [.. Rows("finkelstein-wolfe-1985-rt.csv")
            .Select(cells => new CensoredCount(Number(cells[0]), cells[1].Length == 0 ? null : Number(cells[1]), 1))];

    // Two sowings as they are looked at at home: up between two looks, all of them in the end.
    private static readonly CensoredCount[] Towel = [new(0, 2.5, 3), new(2.5, 3.4, 9), new(3.4, 5, 6), new(5, 8, 2)];
    private static readonly CensoredCount[] Mix = [new(0, 3, 1), new(3, 4, 4), new(4, 6.5, 8), new(6.5, 9, 4)];

    [Fact]
    public void Kaplan_Meier_of_the_remissions_is_as_published()
    {
        var steps = KaplanMeier.Of(Freireich.Where(row => row.Group == "6-MP").Select(row => (row.Weeks, row.Relapse)));

        Assert.Equal([6, 7, 10, 13, 16, 22, 23], steps.Select(step => step.At));
        Assert.Equal([0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482], steps.Select(step => Math.Round(step.Remaining, 4)));
        Assert.Equal([0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346], steps.Select(step => Math.Round(step.StandardError, 4)));
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Kaplan_Meier_agrees_with_R()
    {
        var times = string.Join(',', Freireich.Select(row => row.Weeks));
        var happened = string.Join(',', Freireich.Select(row => row.Relapse ? 1 : 0));
        var theirs = await Numbers($"f <- summary(survfit(Surv(c({times}),c({happened})) ~ 1)); cat(f$surv, f$std.err)");
        var steps = KaplanMeier.Of(Freireich.Select(row => (row.Weeks, row.Relapse)));

        Same(theirs[..(theirs.Length / 2)], steps.Select(step => step.Remaining), 1e-7);
        Same(theirs[(theirs.Length / 2)..], steps.Select(step => step.StandardError), 1e-7);
    }

    [Fact]
    public void Turnbulls_estimate_of_the_radiotherapy_data_is_as_published()
    {
        var estimate = TurnbullEstimate.Of(Radiotherapy);
        var published = Rows("finkelstein-wolfe-1985-rt-masses.csv").ToArray();

        Assert.Equal(published.Select(cells => Number(cells[0])), estimate.Masses.Select(mass => mass.From));
        Assert.Equal(published.Select(cells => Number(cells[2])), estimate.Masses.Select(mass => Math.Round(mass.Share, 4)));
        Assert.Equal(-58.06, estimate.LogLikelihood, 0.005);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Turnbulls_estimate_agrees_with_R()
    {
        // R stops its iteration early: a share on its way to nothing is still a thousandth there.
        var theirs = await Numbers($"f <- survfit({Surv([.. Towel, .. Mix])} ~ 1, weights=n); cat(f$surv[-diff(c(1, f$surv)) > 0.002])");
        var estimate = TurnbullEstimate.Of([.. Towel, .. Mix]);

        Same(theirs, estimate.Masses.Select(mass => mass.Remaining), 0.002);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task With_exact_and_censored_times_the_excess_is_that_of_Rs_log_rank_test()
    {
        var times = string.Join(',', Freireich.Select(row => row.Weeks));
        var happened = string.Join(',', Freireich.Select(row => row.Relapse ? 1 : 0));
        var group = string.Join(',', Freireich.Select(row => row.Group == "6-MP" ? 1 : 2));
        var theirs = await Numbers($"f <- survdiff(Surv(c({times}),c({happened})) ~ c({group})); cat(f$obs[1], f$exp[1], f$chisq)");

        var ours = IntervalLogRank.Of(Exact("6-MP"), Exact("placebo"));

        Assert.Equal(theirs[0], ours.Seen);
        Assert.Equal(theirs[0] - theirs[1], ours.Excess, 1e-4);

        // The variance is that of shuffling, not R's: the same to a tenth here. Published: chi-squared 16.79.
        Assert.Equal(theirs[2], ours.Z * ours.Z, 0.1 * theirs[2]);
        Assert.True(ours.PValue < 0.001);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Shuffling_the_groups_in_R_gives_the_same_chance()
    {
        // Scores from R's own Turnbull estimate (survfit of type interval2), then 20,000 shuffles of the labels, seeded.
        var both = Surv([.. Towel, .. Mix]);
        var sizes = (Towel.Sum(count => count.Count), Mix.Sum(count => count.Count));
        var script = $$"""
            f <- survfit({{both}} ~ 1, weights=n)
            s <- c(1, unique(f$surv[f$surv < 1 - 1e-9])); p <- -diff(s); at <- f$time[match(unique(f$surv[f$surv < 1 - 1e-9]), f$surv)]
            score <- function(l, r) {
              w <- ifelse(at > l & at <= r, p, 0); w <- w / sum(w)
              sum(w - rev(cumsum(rev(w))) * p / s[-length(s)])
            }
            c1 <- rep(mapply(score, from, to), n)
            first <- 1:{{sizes.Item1}}
            set.seed(1954)
            u <- replicate(20000, sum(sample(c1)[first]))
            cat(sum(c1[first]), mean(abs(u) >= abs(sum(c1[first])) - 1e-9))
            """;
        var theirs = await Numbers(script);

        var ours = IntervalLogRank.Of(Towel, Mix);

        Assert.Equal(theirs[0], ours.Excess, 0.02);
        Assert.Equal(theirs[1], ours.PValue, 0.02);
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public async Task Lognormal_times_from_intervals_are_those_of_survreg()
    {
        // R: survreg(Surv(from, to, type = "interval2") ~ group - 1, weights = n, dist = "lognormal").
        var script = $"y <- {Surv([.. Towel, .. Mix])}; g <- factor(rep(1:2, c({Towel.Length},{Mix.Length})));"
            + "f <- survreg(y ~ g - 1, weights=n, dist='lognormal'); cat(coef(f), f$scale, sqrt(diag(vcov(f)))[1:2], "
                + "vcov(f)[1,2], f$loglik[2])";
        var theirs = await Numbers(script);

        var ours = IntervalLognormal.Fit([Towel, Mix])!;

        Same(theirs[..2], ours.LogMedians, 1e-4);
        Assert.Equal(theirs[2], ours.Spread, 1e-4);
        Assert.Equal(theirs[3], ours.StandardError(0), 1e-3 * theirs[3]);
        Assert.Equal(theirs[4], ours.StandardError(1), 1e-3 * theirs[4]);
        Assert.Equal(theirs[5], ours.Covariance(0, 1), 1e-5);
        Assert.Equal(theirs[6], ours.LogLikelihood, 1e-4);
    }

    [Fact]
    public void Looks_too_far_apart_tell_no_spread() =>
        Assert.Null(IntervalLognormal.Fit([[new(0, 10, 9)], [new(0, 10, 8)]]));

    [Fact]
    public void Speed_is_compared_among_those_up_by_a_day_that_both_have_seen()
    {
        var comparison = SpeedComparison.Of([(3, 5), (4, 14), (5, 19), (6, 20)], [(3, 0), (4, 3), (5, 9), (6, 14), (7, 17)])!;

        Assert.Equal(6, comparison.UntilDay);
        Assert.Equal((20, 14), (comparison.FirstUp, comparison.SecondUp));
        Assert.True(comparison.IsProof);
        Assert.InRange(comparison.Difference!.Value.Low, 0.3, 1.3);
        Assert.Contains("more than chance", comparison.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_quicker_of_two_took_less_and_never_a_minus_longer()
    {
        (double, int)[] quick = [(3, 5), (4, 14), (5, 19), (6, 20)], slow = [(3, 0), (4, 3), (5, 9), (6, 14), (7, 17)];

        Assert.Matches("the second took [0-9.]+ to [0-9.]+ days longer", SpeedComparison.Of(quick, slow)!.Words);
        Assert.Matches("the second took [0-9.]+ to [0-9.]+ days less", SpeedComparison.Of(slow, quick)!.Words);
        Assert.Matches("the second took from [0-9.]+ days less to [0-9.]+ days longer", SpeedComparison.Of(quick, quick)!.Words);
    }

    [Fact]
    public void Dead_seed_does_not_make_a_sowing_slow()
    {
        var comparison = SpeedComparison.Of([(4, 5), (5, 10), (6, 12), (20, 12)], [(4, 2), (5, 4), (6, 5), (20, 5)])!;

        Assert.False(comparison.IsProof);
        Assert.Contains("no proof", comparison.Words, StringComparison.Ordinal);
        Assert.Null(SpeedComparison.Of([(4, 0)], [(4, 3)]));
    }

    private static CensoredCount[] Exact(string group) =>
        [.. Freireich.Where(row => row.Group == group).Select(row => new CensoredCount(row.Weeks, row.Relapse ? row.Weeks : null, 1))];

    private static string Surv(CensoredCount[] counts) =>
        "{ from <- c(" + Join(counts.Select(count => count.From)) + "); to <- c(" + Join(counts.Select(count => count.To)) + "); n <- c("
            + Join(counts.Select(count => (double?)count.Count)) + "); "
        + "Surv(ifelse(from == 0, NA, from), to, type='interval2') }";

    private static string Join(IEnumerable<double> numbers) => Join(numbers.Select(number => (double?)number));

    private static string Join(IEnumerable<double?> numbers) =>
        string.Join(',', numbers.Select(number => number?.ToString(CultureInfo.InvariantCulture) ?? "NA"));

    private static async Task<double[]> Numbers(string script) =>
        [.. (await Oracle.R("library(survival)\noptions(digits=12)\n" + script)).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(Number)];

    private static IEnumerable<string[]> Rows(string file) =>
        File.ReadLines(SourceTree.Path("tests", "cases", "survival", file)).Skip(1).Select(line => line.Split(','));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static void Same(IEnumerable<double> theirs, IEnumerable<double> ours, double within)
    {
        var (one, other) = (theirs.ToArray(), ours.ToArray());
        Assert.Equal(one.Length, other.Length);
        Assert.All(one.Zip(other), pair => Assert.Equal(pair.First, pair.Second, within));
    }
}
