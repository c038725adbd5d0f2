using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Trials;
using Chamber.Testing;

namespace Chamber.Core.Tests.Trials;

/// <summary>A profile from trials: what is known comes back, what is not is said, and the numbers are R's where R can say them.</summary>
[Trait(Tier.Name, Tier.Whole)]
public class TrialFitTests
{
    [Fact]
    public void Trials_over_the_whole_range_give_back_the_profile_they_were_drawn_from()
    {
        var fit = TrialFit.Of(SimulatedTrials.Usual.Draw(1, 100, 0.5, 40, 10, 12, 15, 18, 20, 22, 25, 28, 30, 32, 34, 36, 40));

        Assert.Empty(fit.Doubts);
        Near(8, 0.5, fit.Base);
        Near(25, 1.5, fit.OptimumLow);
        Near(30, 1.5, fit.OptimumHigh);
        Near(38, 0.7, fit.Ceiling);
        Near(2400, 150, fit.HalfWarmHours);
        Near(0.25, 0.03, fit.Spread);
        Near(0.85, 0.05, fit.GerminableShare);
    }

    [Fact]
    public void Intervals_hold_what_they_say_over_many_trials()
    {
        // 25 homes, three numbers each: 95 % of 75 are 71, and fewer than 63 come with a chance of 1 in 10,000 (binomial).
        var held = 0;
        for (var home = 0; home < 25; home++)
        {
            var fit = TrialFit.Of(SimulatedTrials.Usual.Draw(100 + home, 40, 1, 30, 12, 16, 20, 24, 28, 32, 35));
            held += Holds(fit.Base, 8) + Holds(fit.GerminableShare, 0.85) + Holds(fit.Spread, 0.25);
        }

        Assert.InRange(held, 63, 75);
    }

    [Fact]
    public async Task Where_no_share_is_missing_three_temperatures_give_the_estimates_of_R()
    {
        // Three temperatures on the rising side and one spread: the profile has as many numbers as R's model has means, so both find the
        // same best. R, survival: survreg(Surv(from, to, type = "interval2") ~ factor(temperature), weights = count, dist = "lognormal").
        (double T, double From, double To, int Count)[] rows =
        [
            (14, 10, 12, 3), (14, 12, 14, 9), (14, 14, 17, 12), (14, 17, 20, 6), (14, 20, 26, 3),
            (18, 5, 6, 4), (18, 6, 7, 8), (18, 7, 9, 13), (18, 9, 12, 7), (18, 12, 13, 1),
            (22, 4, 5, 5), (22, 5, 6, 13), (22, 6, 7, 8), (22, 7, 9, 7),
        ];
        var table = string.Join("\n", rows.Select(row => FormattableString.Invariant($"{row.T} {row.From} {row.To} {row.Count}")));
        var script = "library(survival)\nd <- read.table(text='" + table + "', col.names=c('t','from','to','n'))\n"
            + "f <- survreg(Surv(from, to, type='interval2') ~ factor(t) - 1, weights=n, data=d, dist='lognormal')\ncat(coef(f), "
                + "f$scale, f$loglik[2])";
        var theirs = (await Oracle.R(script)).Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.Parse(text, CultureInfo.InvariantCulture)).ToArray();

        var fit = TrialFit.Of([.. rows.Select(row => new TrialCount(Temperature.FromCelsius(row.T), row.From, row.To, row.Count))]);

        foreach (var (celsius, logDays) in new[] { 14.0, 18, 22 }.Zip(theirs))
        {
            var days = fit.Half.CelsiusDays / fit.Cardinals.EffectiveWarmth(Temperature.FromCelsius(celsius));
            Assert.Equal(logDays, Math.Log(days), 0.002);
        }

        Assert.Equal(theirs[3], fit.SpreadUsed, 0.002);

        // R's loglik of weighted interval data is of the intervals alone, as ours; a hair is kept for the pull towards usual numbers.
        Assert.Equal(theirs[4], fit.LogLikelihood, 0.02);
        Assert.Equal(1, fit.ShareUsed, 3);
    }

    [Fact]
    public void Cool_trials_alone_tell_the_base_but_neither_plateau_nor_ceiling()
    {
        var fit = TrialFit.Of(SimulatedTrials.Usual.Draw(2, 60, 1, 40, 12, 15, 18, 21));

        Assert.Equal(["optimumLow", "optimumHigh", "ceiling"], fit.Doubts.Select(doubt => doubt.What));
        Near(8, 1, fit.Base);
        Assert.Null(fit.Ceiling.Mid);
        Assert.Null(fit.Ceiling.High);
        Assert.InRange(fit.Ceiling.Low!.Value, 20.9, 21.2);
    }

    [Fact]
    public void One_temperature_tells_how_many_and_how_evenly_but_nothing_of_warmth()
    {
        var fit = TrialFit.Of(SimulatedTrials.Usual.Draw(4, 60, 1, 30, 22));

        Assert.Equal(["base", "optimumLow", "optimumHigh", "ceiling", "halfWarmHours"], fit.Doubts.Select(doubt => doubt.What));
        Near(0.25, 0.06, fit.Spread);
        Near(0.85, 0.1, fit.GerminableShare);
    }

    [Fact]
    public void A_single_look_cannot_tell_the_spread()
    {
        TrialCount[] counts = [new(Temperature.FromCelsius(20), 0, 10, 30), new(Temperature.FromCelsius(20), 10, null, 5)];

        Assert.Contains("spread", TrialFit.Of(counts).Doubts.Select(doubt => doubt.What));
    }

    [Fact]
    public void Shares_that_differ_by_temperature_are_said_with_each_share()
    {
        var difference = TrialFit.Of(SimulatedTrials.CoolKills.Draw(5, 60, 1, 60, 12, 16, 20, 24, 28)).ShareDifference;

        Assert.NotNull(difference);
        Assert.InRange(difference.Chance, 0, 0.001);
        Assert.Equal([12, 16, 20, 24, 28], difference.Shares.Select(each => each.Temperature.Celsius));
        Assert.InRange(difference.Shares[0].Share, 0.3, 0.6);
        Assert.All(difference.Shares.Skip(1), each => Assert.InRange(each.Share, 0.7, 1));
    }

    [Fact]
    public void Cool_trials_that_ended_too_early_are_late_and_not_another_share()
    {
        // At 12 °C half are up after 25 days; on day 22 seven in ten of those that can are still to come.
        var late = SimulatedTrials.Usual.Draw(6, 60, 1, 22, 12, 16, 20, 24, 28);
        Assert.InRange(late.Where(count => count.Temperature.Celsius == 12 && count.ToDays is not null).Sum(count => count.Count), 3, 30);

        Assert.Null(TrialFit.Of(late).ShareDifference);
    }

    [Fact]
    public void Of_trials_with_one_share_hardly_any_are_said_to_differ()
    {
        // One in a hundred may be: of 40 more than 3 come with a chance of 1 in 1,500 (binomial).
        Assert.InRange(Enumerable.Range(0, 40)
            .Count(home =>
            TrialFit.Of(SimulatedTrials.Usual.Draw(300 + home, 40, 1, 30, 12, 16, 20, 24, 28, 32)).ShareDifference is not null), 0, 3);
    }

    [Fact]
    public void Trials_without_a_seedling_cannot_be_fitted() =>
        Assert.Throws<FormatException>(() => TrialFit.Of([new(Temperature.FromCelsius(5), 30, null, 50)]));

    private static int Holds(TrialEstimate estimate, double truth) =>
        !(truth < estimate.Low) && !(truth > estimate.High) ? 1 : 0;

    private static void Near(double truth, double within, TrialEstimate estimate)
    {
        Assert.InRange(estimate.Mid!.Value, truth - within, truth + within);
        Assert.InRange(truth, estimate.Low!.Value - within / 2, estimate.High!.Value + within / 2);
        Assert.InRange(estimate.Mid.Value, estimate.Low.Value, estimate.High.Value);
    }
}
