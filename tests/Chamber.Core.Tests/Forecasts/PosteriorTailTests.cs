using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Statistics;
using Chamber.Testing;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts;

/// <summary>The tails of what is believed of a batch: the chance of one more, and when the last ones come, against brute sums.</summary>
public sealed class PosteriorTailTests(ITestOutputHelper output)
{
    private static readonly EmergencePrior Prior = Of(2000, 0.22, 0.55, 0.22, ShareBelief.Around(0.85, 10));

    private static readonly EmergencePrior Wide = Of(3000, 0.5, 0.7, 0.3, ShareBelief.Around(0.6, 4));

    private static readonly EmergencePrior Firm = Of(1500, 0.15, 0.52, 0.42, ShareBelief.Around(0.95, 40));

    private static readonly CardinalTemperatures Cardinals = new(
        Temperature.FromCelsius(5), Temperature.FromCelsius(25), Temperature.FromCelsius(30), Temperature.FromCelsius(40));

    private static EmergencePrior Of(double half, double usual, double odd, double spread, ShareBelief share) =>
        new([new(0.95, Math.Log(half), usual), new(0.05, Math.Log(half), odd)], new(1, Math.Log(spread), 0.25), share);

    private static IEnumerable<(string Name, EmergencePrior Prior, int Seeds, (double WarmHours, int Up)[] Looks)> Cases()
    {
        foreach (var (name, prior) in new[] { ("usual", Prior), ("wide", Wide), ("firm", Firm) })
        {
            var half = Math.Exp(prior.LogHalf[0].Mean);
            foreach (var seeds in name == "usual" ? new[] { 12, 60 } : [12])
            {
                foreach (var last in new[] { 0.5, 1.5, 2.5, 5 })
                {
                    yield return ($"{name}, 0 of {seeds} at {last} θ50", prior, seeds, [(last * half, 0)]);
                    foreach (var share in new[] { 0.2, 0.5, 0.8 })
                    {
                        var up = (int)Math.Round(share * seeds);
                        if (up > 0 && up < seeds)
                        {
                            yield return (
                                $"{name}, {up} of {seeds} within {0.6 * last} to {0.8 * last}, none till {last} θ50", prior, seeds,
                                [(0.6 * last * half, 0), (0.8 * last * half, up), (last * half, up)]);
                        }
                    }
                }
            }
        }
    }

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void The_chance_of_one_more_equals_a_brute_sum_to_three_digits()
    {
        var worst = new List<(double Off, string What)>();
        foreach (var (name, prior, seeds, looks) in Cases())
        {
            var seen = SeenCounts.Of(seeds, looks);
            var quick = EventOdds.Of(EmergenceBelief.After(prior, seen), double.PositiveInfinity).Ever(Milestone.Next);
            var dense = ChanceOfMore(prior, seen);
            worst.Add((Math.Abs(quick - dense), $"{name}: {quick:0.0000} for {dense:0.0000}"));
        }

        foreach (var (off, what) in worst.OrderByDescending(each => each.Off).Take(12))
        {
            output.WriteLine($"{off:0.0000}  {what}");
        }

        Assert.True(worst.Count >= 60);
        Assert.True(worst.Max(each => each.Off) < 0.001, worst.MaxBy(each => each.Off).What);
    }

    [Fact]
    public void Where_more_may_come_it_is_said_when_at_the_latest()
    {
        List<string> missing = [];
        foreach (var (name, prior, seeds, looks) in Cases())
        {
            var sown = Instant.FromUtc(2026, 3, 1, 0, 0);
            var outlook = WarmthOutlook.Steady(Cardinals, Temperature.FromCelsius(15));
            var now = sown + Duration.FromHours(looks[^1].WarmHours / 10);
            var course = WarmthCourse.Steady(Cardinals, Temperature.FromCelsius(15), new(sown, now));
            var seen = looks.Select(look => new Look(sown + Duration.FromHours(look.WarmHours / 10), look.Up));
            var forecast = Forecaster.Forecast(prior, new(sown, now, seeds, EmergenceEvent.ShootSeen, [.. seen], course, outlook));
            if (!forecast.NoneLikely && (forecast.Most.High is null || forecast.Half.High is null || forecast.First.High is null))
            {
                missing.Add($"{name}: most {forecast.Most.Mid?.TotalDays:0} d, more {forecast.ChanceOfMore:0.000}");
            }
        }

        Assert.True(missing.Count == 0, string.Join(Environment.NewLine, missing));
    }

    private static double ChanceOfMore(EmergencePrior prior, SeenCounts seen)
    {
        var likelihood = new CountLikelihood(seen);
        const int Angles = 120;
        var shares = Enumerable.Range(0, Angles).Select(k => (k + 0.5) / Angles * Math.PI / 2)
            .Select(angle => (Share: Math.Pow(Math.Sin(angle), 2), Weight: Math.Sin(angle) * Math.Cos(angle)))
            .Select(node => (node.Share, Weight: node.Weight * SharePrior(prior, node.Share))).ToArray();
        var reach = 7 * prior.LogHalf.Max(term => term.Deviation);
        var (none, all) = (0.0, 0.0);
        var peak = double.NegativeInfinity;
        var last = Math.Log(seen.LastWarmHours);
        List<(double Log, double NoneShare)> terms = [];
        for (var m = prior.LogHalf[0].Mean - reach; m < prior.LogHalf[0].Mean + reach; m += reach / (seen.Seeds > 20 ? 250 : 70))
        {
            var density = Math.Log(prior.LogHalf.Sum(term => term.Weight * Normal.PDF(term.Mean, term.Deviation, m)) + 1e-300);
            for (var z = -8.0; z <= 4.5; z += 0.3)
            {
                var spread = Math.Exp(prior.LogSpread.Mean + z * prior.LogSpread.Deviation);
                var by = Normal.CDF(0, 1, (last - m) / spread);
                foreach (var (share, weight) in shares)
                {
                    var late = share * (1 - by) / (1 - share * by);
                    var log = density - z * z / 2 + Math.Log(weight + 1e-300) + likelihood.Log(m, spread, share);
                    peak = Math.Max(peak, log);
                    terms.Add((log, Math.Pow(1 - late, seen.Seeds - seen.Up)));
                }
            }
        }

        foreach (var (log, noneShare) in terms)
        {
            var weight = Math.Exp(log - peak);
            all += weight;
            none += weight * noneShare;
        }

        return 1 - none / all;
    }

    private static double SharePrior(EmergencePrior prior, double g) =>
        (1 - prior.Failing) * Beta.PDF(prior.Germinable.Good, prior.Germinable.Bad, g)
        + prior.Failing * Beta.PDF(HomePriors.FailedBatch.Good, HomePriors.FailedBatch.Bad, g);
}
