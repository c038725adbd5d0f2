using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using Chamber.Testing;
using NodaTime;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>
/// What is believed, learned and given up on, against SciPy with its own likelihood on a dense grid: no code of this program takes
/// part but the numbers that it assumes beforehand, which are its own. Looks and counts are invented.
/// </summary>
[Trait("tier", "whole")]
[Trait(Tier.Name, Tier.Whole)]
public sealed class PosteriorOracleTests
{
    // ln likelihood of interval-censored counts with a share that never comes up, and the densities that are assumed beforehand.
    private const string Model = """
        import json, sys
        import numpy as np
        from scipy.stats import norm, beta
        from scipy.special import logsumexp

        def log_likelihood(seeds, looks, m, s, g):
            total, last, up = 0.0, 0.0, 0
            for warm, count in looks:
                if count > up:
                    low = 0.0 if last == 0 else norm.cdf((np.log(last) - m) / s)
                    total = total + (count - up) * (np.log(g) + np.log(np.maximum(norm.cdf((np.log(warm) - m) / s) - low, 1e-300)))
                last, up = warm, count
            if looks and seeds > up:
                total = total + (seeds - up) * np.log1p(-g * norm.cdf((np.log(last) - m) / s))
            return total + 0 * (m + s + g)

        def log_share(g, good, bad, failing, fail_good, fail_bad):
            return np.log((1 - failing) * beta.pdf(g, good, bad) + failing * beta.pdf(g, fail_good, fail_bad))

        def grid(low, high, count):
            step = (high - low) / count
            return low + step * (np.arange(count) + 0.5)

        share = grid(0, 1, 160)

        """;

    private static readonly (string What, int Seeds, (double WarmHours, int Up)[] Looks)[] Batches =
    [
        ("nobody has looked", 12, []),
        ("nothing by the time most are up", 12, [(1500, 0), (2300, 0)]),
        ("long overdue", 12, [(6000, 0)]),
        ("a few up", 12, [(1500, 0), (1900, 1), (2200, 5)]),
        ("all up between two looks", 12, [(1800, 0), (2500, 12)]),
        ("a big sowing, looked at often", 200,
            [(1300, 2), (1500, 9), (1700, 31), (1900, 70), (2100, 110), (2300, 139), (2600, 160), (3500, 171)]),
        ("much slower than the table", 60, [(3500, 0), (4000, 8), (4600, 29), (5200, 45)]),
    ];

    [Fact]
    public async Task The_belief_about_a_batch_is_that_of_a_dense_grid_in_SciPy()
    {
        var prior = new EmergencePrior([new(0.95, Math.Log(2000), 0.22), new(0.05, Math.Log(2000), 0.55)], new(1, Math.Log(0.22), 0.25),
            ShareBelief.Around(0.85, 10));
        var theirs = await Numbers($"""
            m = grid(np.log(2000) - 2.5, np.log(2000) + 2.5, 300)[:, None, None]
            s = np.exp(grid(np.log(0.22) - 1.5, np.log(0.22) + 1.5, 48))[None, :, None]
            g = share[None, None, :]
            before = (np.log(0.95 * norm.pdf(m, np.log(2000), 0.22) + 0.05 * norm.pdf(m, np.log(2000), 0.55))
                      + norm.logpdf(np.log(s), np.log(0.22), 0.25) + log_share(g, {Share(prior.Germinable)}))
            for seeds, looks in {Python(Batches.Select(batch => (batch.Seeds, batch.Looks)))}:
                weight = before + log_likelihood(seeds, looks, m, s, g)
                weight = np.exp(weight - weight.max())
                weight /= weight.sum()
                for value in (m, s, g):
                    mean = (weight * value).sum()
                    print(mean, np.sqrt((weight * (value - mean) ** 2).sum()))
            """);
        foreach (var ((what, seeds, looks), at) in Batches.Select((batch, at) => (batch, at)))
        {
            var ours = EmergenceBelief.After(prior, SeenCounts.Of(seeds, looks));
            foreach (var ((mean, deviation), row) in new[] { ours.LogHalf, ours.Spread, ours.Germinable }.Select(
                (moments, row) => (moments, row)))
            {
                var (theirMean, theirDeviation) = (theirs[6 * at + 2 * row], theirs[6 * at + 2 * row + 1]);
                Assert.True(Math.Abs(mean - theirMean) <= 0.01 * theirDeviation + 1e-4, $"{what}, {row}: mean {mean} against {theirMean}");
                Assert.True(Math.Abs(deviation - theirDeviation) <= 0.01 * theirDeviation,
                    $"{what}, {row}: deviation {deviation} against {theirDeviation}");
            }
        }
    }

    /// <summary>A batch without a lot strays as lots do, too: variances of independent things add.</summary>
    private static double Stray(double own) => Math.Sqrt(own * own + HomePriors.LotDeviation * HomePriors.LotDeviation);

    /// <summary>
    /// Batches say something only of the sums home + crop + method, so two methods of one crop are a plane: the prior over it is normal,
    /// each batch strays a little or seldom a lot, and what is left of the single factors follows from the normal prior.
    /// </summary>
    [Fact]
    public async Task Learned_factors_are_those_of_a_dense_grid_in_SciPy()
    {
        (double, int)[][] covered = [[(1600, 0), (1900, 3), (2200, 9), (2600, 16), (3400, 17)], [(1800, 1), (2100, 8), (2700, 17)],
            [(1500, 0), (2000, 4), (2300, 10), (3000, 16)]];
        (double, int)[][] open = [[(2000, 0), (2600, 5), (3100, 13), (4000, 17)], [(2200, 1), (2900, 10), (3600, 16)]];
        var batches = covered.Select((looks, i) => Evidence($"C{i}", SowingMethod.CoveredMix, looks))
            .Concat(open.Select((looks, i) => Evidence($"O{i}", SowingMethod.OpenMix, looks))).ToArray();

        var learned = HomeKnowledge.Learn(batches, Start).Learned;

        var theirs = await Numbers($"""
            half, spread, home, crop, method = {Text(Math.Log(Tomato.Profile.HalfWarmHours.CelsiusHours))}, {Text(Tomato.Profile.Spread)}, {Text(HomePriors.HomeDeviation)}, {Text(Tomato.Profile.HalfDeviation)}, {Text(HomePriors.MethodDeviation)}
            x = grid(-1.6, 1.6, 480)
            s = np.exp(grid(np.log(spread) - 1.2, np.log(spread) + 1.2, 48))[None, :, None]
            own = log_share(share, {Share(Germinability.UnknownLot)})[None, None, :] + norm.logpdf(np.log(s), np.log(spread), {Text(HomePriors.LogSpreadDeviation)})
            sums = grid(-0.8, 0.8, 320)
            stray = ({Text(1 - HomePriors.OddBatchShare)} * norm.pdf(x[None, :], sums[:, None], {Text(Stray(HomePriors.BatchDeviation))})
                     + {Text(HomePriors.OddBatchShare)} * norm.pdf(x[None, :], sums[:, None], {Text(Stray(HomePriors.OddBatchDeviation))}))
            def say(looks):
                along = np.array([logsumexp(own + log_likelihood(20, looks, half + at, s, share[None, None, :])) for at in x])
                return np.log(stray @ np.exp(along - along.max()))
            first = sum(say(looks) for looks in {Python(covered)})
            second = sum(say(looks) for looks in {Python(open)})
            shared, each = home ** 2 + crop ** 2, method ** 2
            prior = np.array([[shared + each, shared], [shared, shared + each]])
            inverse = np.linalg.inv(prior)
            a, b = sums[:, None], sums[None, :]
            weight = first[:, None] + second[None, :] - 0.5 * (inverse[0, 0] * a * a + 2 * inverse[0, 1] * a * b + inverse[1, 1] * b * b)
            weight = np.exp(weight - weight.max())
            weight /= weight.sum()
            mean = np.array([(weight * a).sum(), (weight * b).sum()])
            cross = (weight * (a - mean[0]) * (b - mean[1])).sum()
            spread_of = np.array([[(weight * (a - mean[0]) ** 2).sum(), cross], [cross, (weight * (b - mean[1]) ** 2).sum()]])
            # Covariance of (home, home + crop, home + first method, home + second method) with the two sums, and their own variances.
            across = np.array([[home ** 2] * 2, [shared] * 2, [home ** 2 + each, home ** 2], [home ** 2, home ** 2 + each]])
            alone = np.array([home ** 2, shared, home ** 2 + each, home ** 2 + each])
            pull = across @ inverse
            middle = pull @ mean
            variance = alone - np.einsum('ij,ij->i', pull, across) + np.einsum('ij,jk,ik->i', pull, spread_of, pull)
            for i in range(4):
                reach = norm.ppf(0.9) * np.sqrt(variance[i])
                print(np.exp(middle[i] - reach), np.exp(middle[i]), np.exp(middle[i] + reach))
            """);
        LearnedFactor[] ours = [Of(FactorKind.Home, "home"), Of(FactorKind.Crop, "tomato"), Of(FactorKind.Method, "CoveredMix"),
            Of(FactorKind.Method, "OpenMix")];
        foreach (var (factor, at) in ours.Select((factor, at) => (factor, at)))
        {
            Assert.Equal(theirs[3 * at], factor.Low, 0.01);
            Assert.Equal(theirs[3 * at + 1], factor.Mid, 0.01);
            Assert.Equal(theirs[3 * at + 2], factor.High, 0.01);
        }

        LearnedFactor Of(FactorKind kind, string name) => learned.Single(factor => factor.Kind == kind && factor.Name == name);
    }

    [Fact]
    public async Task The_day_to_stop_waiting_is_that_of_a_dense_grid_in_SciPy()
    {
        // At a steady 20 °C: warm-hours are hours times 20 less the base. Waiting ends when one more seedling is unlikely, and when a seed
        // that comes up at all is seldom that late.
        const double perHour = 20 - 7.6;
        (double Day, int Up)[][] asked = [[(8, 0)], [(8, 0), (9, 2), (11, 7)], [(7, 1), (12, 9)], [(15, 0)]];
        var prior = HomeKnowledge.Nothing.PriorFor(new BatchKind(Tomato.Id, Tomato.Profile, SowingMethod.CoveredMix, null),
            ShareBelief.Around(0.85, 10));
        var ours = asked.Select(looks => Forecaster.Forecast(prior, Standing(looks)).Stop.After!.Value.TotalDays).ToArray();

        var theirs = await Numbers($"""
            terms = {Python(prior.LogHalf.Select(term => (term.Weight, term.Mean, term.Deviation)))}
            m = grid(terms[0][1] - 2.8, terms[0][1] + 2.8, 260)[:, None, None]
            s = np.exp(grid(np.log({Text(Tomato.Profile.Spread)}) - 1.2, np.log({Text(Tomato.Profile.Spread)}) + 1.2, 48))[None, :, None]
            g = share[None, None, :]
            before = (np.log(sum(w * norm.pdf(m, at, sd) for w, at, sd in terms)) + norm.logpdf(np.log(s), np.log({Text(Tomato.Profile.Spread)}), {Text(HomePriors.LogSpreadDeviation)})
                      + log_share(g, {Share(prior.Germinable)}))
            for looks in {Python(asked.Select(looks => looks.Select(look => (look.Day * 24 * perHour, look.Up)).ToArray()))}:
                up = looks[-1][1]
                seen = looks if up else []
                weight = before + log_likelihood(12, seen, m, s, g)
                weight = np.exp(weight - weight.max())
                weight /= weight.sum()
                now = norm.cdf((np.log(seen[-1][0]) - m) / s) if seen else 0 * m
                of_cell = weight.sum(axis=2, keepdims=True)
                none_ever = (weight * ((1 - g) / (1 - g * now)) ** (12 - up)).sum()
                def enough(warm):
                    f = norm.cdf((np.log(warm) - m) / s)
                    none_yet = (weight * ((1 - g * f) / (1 - g * now)) ** (12 - up)).sum()
                    return none_ever >= 0.95 * none_yet and 1 - (of_cell * f).sum() <= 0.05
                low, high = (seen[-1][0] if seen else 1), 200000
                for _ in range(16):
                    middle = np.sqrt(low * high)
                    low, high = (low, middle) if enough(middle) else (middle, high)
                print(high / {Text(perHour * 24)})
            """);
        Assert.All(ours.Zip(theirs), pair => Assert.Equal(pair.Second, pair.First, 0.1));
    }

    private static BatchEvidence Evidence(string name, SowingMethod method, (double, int)[] looks) =>
        new(new(name), new(Tomato.Id, Tomato.Profile, method, null), SeenCounts.Of(20, looks), Germinability.UnknownLot, Start, Start);

    private static Situation Standing((double Day, int Up)[] looks)
    {
        var (cardinals, now) = (Tomato.Profile.Cardinals, looks[^1].Day);
        return new(
            Start,
            AfterDays(now),
            12,
            EmergenceEvent.ShootSeen,
            [.. looks.Select(look => new Look(AfterDays(look.Day), look.Up))],
            WarmthCourse.Steady(cardinals, Celsius(20), new Interval(Start, AfterDays(now))),
            WarmthOutlook.Steady(cardinals, Celsius(20)));
    }

    private static string Share(ShareBelief belief) =>
        string.Join(", ", new[] { belief.Good, belief.Bad, HomePriors.FailedBatchShare, HomePriors.FailedBatch.Good,
            HomePriors.FailedBatch.Bad }.Select(Text));

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static string Python(IEnumerable<(int Seeds, (double, int)[] Looks)> batches) =>
        $"[{string.Join(", ", batches.Select(batch => $"({batch.Seeds}, {Python(batch.Looks)})"))}]";

    private static string Python(IEnumerable<(double, int)[]> looks) => $"[{string.Join(", ", looks.Select(Python))}]";

    private static string Python((double WarmHours, int Up)[] looks) =>
        $"[{string.Join(", ", looks.Select(look => $"({Text(look.WarmHours)}, {look.Up})"))}]";

    private static string Python(IEnumerable<(double, double, double)> terms) =>
        $"[{string.Join(", ", terms.Select(term => $"({Text(term.Item1)}, {Text(term.Item2)}, {Text(term.Item3)})"))}]";

    private static async Task<double[]> Numbers(string script) =>
        [.. (await Oracle.SciPy(Model + script)).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.Parse(text, CultureInfo.InvariantCulture))];
}
