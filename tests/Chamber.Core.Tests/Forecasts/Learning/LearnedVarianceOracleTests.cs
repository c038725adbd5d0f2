using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;
using Chamber.Testing;
using MathNet.Numerics.Distributions;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>
/// How far lots lie apart against SciPy with its own likelihood on a dense grid: over the level that all batches share, each lot and each
/// batch's own straying, for every multiple of the variances. Counts are drawn from a seed; the spread is known, so that the grid is small.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class LearnedVarianceOracleTests(ITestOutputHelper output)
{
    private const int Seeds = 30;
    private const int Lots = 6;

    [Theory]
    [InlineData(0.55)]
    [InlineData(0.05)]
    public async Task The_mean_variance_of_lots_is_that_of_a_dense_grid_in_SciPy(double apart)
    {
        var random = new Random(12);
        var said = Enumerable.Range(0, Lots).SelectMany(lot => Enumerable.Range(0, 2)
            .Select(_ => (lot, Looks: Batch(random, apart * StandardNormal(lot))))).ToArray();
        var evidence = said.Select((batch, at) => new BatchEvidence(new($"B{at}"),
            new BatchKind(Tomato.Id, Tomato.Profile, SowingMethod.CoveredMix, new LotId($"L{batch.lot}")),
            SeenCounts.Of(Seeds, batch.Looks), Germinability.UnknownLot, Start, Start)).ToArray();
        var ours = HomeKnowledge.Learn(evidence, Start).Variances.Single(one => one.Kind == FactorKind.Lot).Times;
        var theirs = await Grid(said);
        output.WriteLine($"lots drawn {apart} apart: variance times {ours:0.000} against {theirs:0.000}");
        Assert.Equal(theirs, ours, 0.06 * theirs);
    }

    private static double StandardNormal(int lot) => Core.Statistics.StandardNormal.Quantile((lot + 0.5) / Lots);

    private static async Task<double> Grid((int Lot, (double, int)[] Looks)[] said) => double.Parse(await Oracle.SciPy($$"""
        import numpy as np
        from scipy.stats import norm, beta
        from scipy.special import logsumexp
        half, spread = {{Text(Math.Log(Tomato.Profile.HalfWarmHours.CelsiusHours))}}, {{Text(Tomato.Profile.Spread)}}
        batches = [{{string.Join(", ", said.Select(one => $"({one.Lot}, [{string.Join(", ", one.Looks.Select(look => $"({Text(look.Item1)}, {look.Item2})"))}])"))}}]
        x = np.linspace(-2.4, 2.4, 481)
        z = np.linspace(-0.9, 0.9, 37)
        g = (np.arange(100) + 0.5) / 100
        share = np.log({{Text(1 - HomePriors.FailedBatchShare)}} * beta.pdf(g, {{Text(Germinability.UnknownLot.Good)}}, {{Text(Germinability.UnknownLot.Bad)}})
                       + {{Text(HomePriors.FailedBatchShare)}} * beta.pdf(g, {{Text(HomePriors.FailedBatch.Good)}}, {{Text(HomePriors.FailedBatch.Bad)}}))
        widths = norm.pdf(z, 0, {{Text(HomePriors.LogSpreadDeviation)}})
        def table(looks):
            s = spread * np.exp(z)[None, :]
            total, last, up = 0.0, 0.0, 0
            for warm, count in looks:
                if count > up:
                    low = 0.0 if last == 0 else norm.cdf((np.log(last) - half - x[:, None]) / s)
                    total = total + (count - up) * np.log(np.maximum(norm.cdf((np.log(warm) - half - x[:, None]) / s) - low, 1e-300))
                last, up = warm, count
            done = norm.cdf((np.log(last) - half - x[:, None]) / s)
            rest = logsumexp(share + up * np.log(g) + ({{Seeds}} - up) * np.log1p(-g * done[:, :, None]), axis=2)
            log = total + rest
            return np.exp(log - log.max()) @ widths
        logs = np.array([-0.7, -0.35, 0, 0.35, 0.7])
        weights = np.exp(-logs ** 2 / 2 / {{Text(HomePriors.LogDeviationOfHomes)}} ** 2)
        weights /= weights.sum()
        times = np.exp(2 * logs) / (weights * np.exp(2 * logs)).sum()
        sums = np.linspace(-1.6, 1.6, 161)
        stray = ({{Text(1 - HomePriors.OddBatchShare)}} * norm.pdf(x[None, :], sums[:, None], {{Text(HomePriors.BatchDeviation)}})
                 + {{Text(HomePriors.OddBatchShare)}} * norm.pdf(x[None, :], sums[:, None], {{Text(HomePriors.OddBatchDeviation)}}))
        by_lot = {}
        for lot, looks in batches:
            by_lot[lot] = by_lot.get(lot, 0) + np.log(stray @ table(looks) + 1e-300)
        levels = np.linspace(-1.2, 1.2, 121)
        def given(times_of_lots):
            lots = norm.pdf(sums[None, :], levels[:, None], {{Text(HomePriors.LotDeviation)}} * np.sqrt(times_of_lots)) * (sums[1] - sums[0])
            return sum(np.log(lots @ np.exp(say - say.max()) + 1e-300) + say.max() for say in by_lot.values())
        say = [given(one) for one in times]
        total, mean = 0.0, 0.0
        largest = max(one.max() for one in say)
        for crop, of_crop in zip(times, weights):
            for method, of_method in zip(times, weights):
                wide = np.sqrt({{Text(HomePriors.HomeDeviation)}} ** 2 + {{Text(Tomato.Profile.HalfDeviation)}} ** 2 * crop + {{Text(HomePriors.MethodDeviation)}} ** 2 * method)
                for lot in range(5):
                    each = of_crop * of_method * weights[lot] * (norm.pdf(levels, 0, wide) * np.exp(say[lot] - largest)).sum()
                    total, mean = total + each, mean + each * times[lot]
        print(mean / total)
        """), CultureInfo.InvariantCulture);

    private static (double, int)[] Batch(Random random, double shift)
    {
        var half = Math.Log(Tomato.Profile.HalfWarmHours.CelsiusHours) + shift + Normal.Sample(random, 0, 0.1);
        var up = Enumerable.Range(0, Seeds).Where(_ => random.NextDouble() < 0.85)
            .Select(_ => Math.Exp(Normal.Sample(random, half, Tomato.Profile.Spread))).ToArray();
        return [.. Enumerable.Range(1, 16).Select(step => step * 0.2 * Tomato.Profile.HalfWarmHours.CelsiusHours)
            .Select(warm => (warm, up.Count(seed => seed <= warm)))];
    }

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
