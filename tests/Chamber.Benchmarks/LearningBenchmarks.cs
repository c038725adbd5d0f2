using BenchmarkDotNet.Attributes;
using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;
using Chamber.Core.Trials;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Benchmarks;

/// <summary>What learning costs; aims: a posterior with its forecast 5 ms, a home of 200 batches relearned 1 s, several hundred rows of
/// trials fitted 1 s.</summary>
public class LearningBenchmarks
{
    private const int HomeBatches = 200;
    private static readonly Instant Start = Instant.FromUtc(2026, 3, 1, 8, 0);
    private static readonly string[] Names = ["tomato", "broccoli", "lettuce", "onion", "basil"];

    private readonly Crop tomato = CropCatalog.Shipped.Require("tomato");
    private EmergencePrior prior = null!;
    private Situation situation = null!;
    private BatchEvidence[] batches = [];
    private TrialCount[] trials = [];

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(1954);
        batches = [.. Enumerable.Range(0, HomeBatches).Select(number => Evidence(number, random))];
        prior = HomeKnowledge.Nothing.PriorFor(batches[0].Kind, Germinability.UnknownLot);
        var hours = Enumerable.Repeat<HourOfDay?>(new(Temperature.FromCelsius(20), 1, 14), 24);
        var climate = new SpotClimate(new HourOfDayProfile(DateTimeZone.Utc, [.. hours]), 0.94, 1.2, 0.3);
        var now = Start + Duration.FromDays(9);
        Look[] looks = [.. Enumerable.Range(1, 9).Select(day => new Look(Start + Duration.FromDays(day), Math.Max(0, day - 5) * 4))];
        situation = new(
            Start, now, 40, EmergenceEvent.ShootSeen, looks,
            WarmthCourse.Steady(tomato.Profile.Cardinals, Temperature.FromCelsius(20), new Interval(Start, now)),
            new SpotOutlook(tomato.Profile.Cardinals, climate, now, 0.5));
        trials = Trials(random);
    }

    [Benchmark]
    public EmergenceForecast PosteriorWithForecast() => Forecaster.Forecast(prior, situation);

    [Benchmark]
    public HomeKnowledge Relearn200Batches() => HomeKnowledge.Learn(batches, Start + Duration.FromDays(800));

    [Benchmark]
    public TrialFit Fit400RowsOfTrials() => TrialFit.Of(trials);

    private static BatchEvidence Evidence(int number, Random random)
    {
        var crop = CropCatalog.Shipped.Require(Names[number % Names.Length]);
        var sown = Start + Duration.FromDays(3 * number);
        var half = crop.Profile.HalfWarmHours.CelsiusHours * Math.Exp(
            Normal.Sample(random, 0.1, 0.15)) / crop.Profile.Cardinals.EffectiveWarmth(Temperature.FromCelsius(20));
        var looks = Enumerable.Range(1, 12)
            .Select(look => (Hours: half * look / 6, Up: (int)(17 * Normal.CDF(0, 1, Math.Log(look / 6.0) / crop.Profile.Spread))))
            .Select(look => new Look(sown + Duration.FromHours(look.Hours), look.Up)).ToArray();
        var method = (number % 3) switch { 0 => SowingMethod.CoveredMix, 1 => SowingMethod.OpenMix, _ => SowingMethod.DampTowel };
        var batch = new Batch(new BatchId($"B{number}"), crop.Id, new LotId($"lot-{number / 4}"), method, sown, 20, [], looks);
        var course = WarmthCourse.Steady(crop.Profile.Cardinals, Temperature.FromCelsius(20), new Interval(sown, looks[^1].At));
        return new(batch.Id, BatchKind.Of(batch, crop.Profile), SeenCounts.Of(batch, course), Germinability.UnknownLot, sown, looks[^1].At);
    }

    /// <summary>Ten temperatures, a hundred seeds each, looked at every 12 hours: about 400 rows.</summary>
    private static TrialCount[] Trials(Random random)
    {
        var cardinals = new CardinalTemperatures(Temperature.FromCelsius(8), Temperature.FromCelsius(25), Temperature.FromCelsius(30),
            Temperature.FromCelsius(38));
        return [.. new double[] { 11, 13, 15, 18, 21, 24, 27, 30, 33, 35 }.SelectMany(celsius =>
        {
            var warmth = cardinals.EffectiveWarmth(Temperature.FromCelsius(celsius));
            return Enumerable.Range(0, 100)
                .Select(_ => random.NextDouble() < 0.85 ? 2400 * Math.Exp(Normal.Sample(random, 0, 0.3)) / 24 / warmth
                    : double.PositiveInfinity)
                .GroupBy(day => day < 45 ? (int)(day / 0.25) : -1)
                .Select(look => look.Key < 0
                    ? new TrialCount(Temperature.FromCelsius(celsius), 45, null, look.Count())
                    : new TrialCount(Temperature.FromCelsius(celsius), look.Key * 0.25, (look.Key + 1) * 0.25, look.Count()));
        })];
    }
}
