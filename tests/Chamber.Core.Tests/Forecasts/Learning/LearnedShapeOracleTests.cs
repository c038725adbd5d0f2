using System.Globalization;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Testing;
using MathNet.Numerics.Distributions;
using static Chamber.Core.Tests.Forecasts.SomeCrops;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>
/// Base and spread that batches teach against SciPy with its own likelihood on a dense grid over the level, the base and the spread that
/// all batches share, each batch's own straying integrated out. Counts are drawn from a seed.
/// </summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class LearnedShapeOracleTests(ITestOutputHelper output)
{
    private const int Seeds = 30;

    [Fact]
    public async Task Base_and_spread_are_those_of_a_dense_grid_in_SciPy()
    {
        double[] slopes = [0.12, 0.05, 0, -0.03, 0.12, 0];
        var batches = slopes.Select(Batch).ToArray();
        var evidence = batches.Select((looks, at) => new BatchEvidence(new($"B{at}"),
            new BatchKind(Tomato.Id, Tomato.Profile, SowingMethod.CoveredMix, null) { PerBaseKelvin = slopes[at] },
            SeenCounts.Of(Seeds, looks), Germinability.UnknownLot, Start, Start) { Stood = Celsius(20 - 70 * slopes[at]) }).ToArray();
        var shapes = HomeKnowledge.Learn(evidence, Start).Shapes;
        (double Mean, double Deviation)[] ours = [.. new[] { FactorKind.Base, FactorKind.Spread }
            .Select(kind => shapes.Single(shape => shape.Kind == kind)).Select(shape => shape.Kind == FactorKind.Base
                ? (shape.Mid - shape.Table, (shape.High - shape.Low) / 2 / 1.2815515655446)
                : (Math.Log(shape.Mid / shape.Table), Math.Log(shape.High / shape.Low) / 2 / 1.2815515655446))];

        var theirs = await Grid(batches, slopes);
        output.WriteLine($"base {ours[0].Mean:0.000} ± {ours[0].Deviation:0.000} against {theirs[0]:0.000} ± {theirs[1]:0.000}; spread "
            + $"{ours[1].Mean:0.000} ± {ours[1].Deviation:0.000} against {theirs[2]:0.000} ± {theirs[3]:0.000}");
        Assert.Equal(theirs[0], ours[0].Mean, 0.08);
        Assert.Equal(theirs[1], ours[0].Deviation, 0.08);
        Assert.Equal(theirs[2], ours[1].Mean, 0.01);
        Assert.Equal(theirs[3], ours[1].Deviation, 0.01);
    }

    /// <summary>Mean and deviation of the base, then of ln of the spread.</summary>
    private static async Task<double[]> Grid((double, int)[][] batches, double[] slopes)
    {
        var level = HomePriors.HomeDeviation * HomePriors.HomeDeviation
            + Tomato.Profile.HalfDeviation * Tomato.Profile.HalfDeviation + HomePriors.MethodDeviation * HomePriors.MethodDeviation;
        return [.. (await Oracle.SciPy($$"""
            import numpy as np
            from scipy.stats import norm, beta
            from scipy.special import logsumexp
            half, spread = {{Text(Math.Log(Tomato.Profile.HalfWarmHours.CelsiusHours))}}, {{Text(Tomato.Profile.Spread)}}
            batches = [{{string.Join(", ", batches.Select(looks => $"[{string.Join(", ", looks.Select(look => $"({Text(look.Item1)}, {look.Item2})"))}]"))}}]
            slopes = [{{string.Join(", ", slopes.Select(Text))}}]
            x = np.linspace(-1.6, 1.6, 321)
            z = np.linspace(-1, 1, 81)
            g = (np.arange(100) + 0.5) / 100
            share = np.log({{Text(1 - HomePriors.FailedBatchShare)}} * beta.pdf(g, {{Text(Germinability.UnknownLot.Good)}}, {{Text(Germinability.UnknownLot.Bad)}})
                           + {{Text(HomePriors.FailedBatchShare)}} * beta.pdf(g, {{Text(HomePriors.FailedBatch.Good)}}, {{Text(HomePriors.FailedBatch.Bad)}}))
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
                return np.exp(log - log.max())
            def stray(own):
                return np.sqrt(own ** 2 + {{Text(HomePriors.LotDeviation)}} ** 2)
            sums = np.linspace(-1.0, 1.0, 161)
            widths = np.linspace(-0.7, 0.7, 57)
            over = ({{Text(1 - HomePriors.OddBatchShare)}} * norm.pdf(x[None, :], sums[:, None], stray({{Text(HomePriors.BatchDeviation)}}))
                    + {{Text(HomePriors.OddBatchShare)}} * norm.pdf(x[None, :], sums[:, None], stray({{Text(HomePriors.OddBatchDeviation)}})))
            own = norm.pdf(z[None, :], widths[:, None], 0.15)
            bases = np.linspace(-6, 6, 121)
            levels = np.linspace(-0.8, 0.8, 81)
            log = (norm.logpdf(levels, 0, np.sqrt({{Text(level)}}))[:, None, None] + norm.logpdf(bases, 0, {{Text(Tomato.Profile.BaseDeviation)}})[None, :, None]
                   + norm.logpdf(widths, 0, 0.2)[None, None, :])
            for looks, slope in zip(batches, slopes):
                say = np.log(over @ table(looks) @ own.T + 1e-300)
                at = levels[:, None] + slope * bases[None, :]
                place = np.clip((at - sums[0]) / (sums[1] - sums[0]), 0, len(sums) - 1.001)
                low = place.astype(int)
                part = (place - low)[:, :, None]
                log = log + (1 - part) * say[low] + part * say[low + 1]
            weight = np.exp(log - log.max())
            weight /= weight.sum()
            for value in (bases[None, :, None], widths[None, None, :]):
                mean = (weight * value).sum()
                print(mean, np.sqrt((weight * (value - mean) ** 2).sum()))
            """)).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(text => double.Parse(text, CultureInfo.InvariantCulture))];
    }

    /// <summary>Looks every fifth of the half warm-hours, of seeds whose base lies 2 K higher and that come up further apart.</summary>
    private static (double, int)[] Batch(double slope, int at)
    {
        var random = new Random(40 + at);
        var half = Math.Log(Tomato.Profile.HalfWarmHours.CelsiusHours) + 2 * slope + Normal.Sample(random, 0, 0.1);
        var up = Enumerable.Range(0, Seeds).Where(_ => random.NextDouble() < 0.85)
            .Select(_ => Math.Exp(Normal.Sample(random, half, 1.3 * Tomato.Profile.Spread))).ToArray();
        return [.. Enumerable.Range(2, 10).Select(step => step * 0.2 * Tomato.Profile.HalfWarmHours.CelsiusHours)
            .Select(warm => (warm, up.Count(seed => seed <= warm)))];
    }

    private static string Text(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
