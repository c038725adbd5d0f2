using Chamber.Core.Batches;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>A home whose factors are drawn from the priors, and batches of it looked at once or twice a day at a steady
/// temperature.</summary>
/// <param name="random">What draws them.</param>
/// <param name="times">By what the deviation of a kind of factor is multiplied in this home; by nothing when null.</param>
/// <param name="draw">Draws what a factor is in this home; from its prior when null.</param>
internal sealed class SimulatedHome(Random random, Func<FactorKind, double>? times = null, Func<Factor, double>? draw = null)
{
    private readonly Dictionary<Factor, double> factors = [];
    private int sown;

    public static Instant Start { get; } = Instant.FromUtc(2026, 1, 10, 9, 0);

    /// <summary>A batch with its looks; <paramref name="straying"/> moves it away from its factors (natural when null).</summary>
    public (BatchEvidence Evidence, double TrueLogHalf) Sow(BatchKind kind, int seeds = 20, double? straying = null, double celsius = 21)
    {
        var logHalf = LogHalf(kind)
            + (straying ?? Normal.Sample(random, 0, FactorPriors.Assumed.Straying(kind, HomePriors.BatchDeviation)));
        var spread = kind.Profile.Spread
            * Math.Exp(Normal.Sample(random, ValueOf(Factor.SpreadOf(kind)), HomePriors.LogSpreadOfBatch));
        var germinable = Beta.Sample(random, Germinability.UnknownLot.Good, Germinability.UnknownLot.Bad);
        var perHour = kind.Profile.Cardinals.EffectiveWarmth(SomeCrops.Celsius(celsius));
        var upAt = Enumerable.Range(0, seeds).Where(_ => random.NextDouble() < germinable)
            .Select(_ => Math.Exp(Normal.Sample(random, logHalf, spread)) / perHour).ToArray();
        var looks = new List<(double, int)>();
        var hour = 0.0;
        for (; hour < Math.Exp(logHalf) * 2.2 / perHour; hour += 8 + 24 * random.NextDouble())
        {
            looks.Add((hour * perHour, upAt.Count(at => at <= hour)));
        }

        var id = new BatchId($"B{++sown}");
        var at = Start + Duration.FromDays(7 * sown);
        return (new(id, kind, SeenCounts.Of(seeds, looks), Germinability.UnknownLot, at, at + Duration.FromHours(hour))
        {
            Stood = SomeCrops.Celsius(celsius),
        }, logHalf);
    }

    /// <summary>ln of the warm-hours that half of a batch of some kind needs in this home, but for its own straying.</summary>
    public double LogHalf(BatchKind kind) => Math.Log(kind.Profile.HalfWarmHours.CelsiusHours)
        + FactorPriors.AllOf(kind).Sum(part => part.Times * ValueOf(part.Factor));

    /// <summary>What a factor is in this home.</summary>
    public double ValueOf(Factor factor) =>
        factors.TryGetValue(factor, out var value) ? value
            : factors[factor] = draw?.Invoke(factor) ?? Normal.Sample(
                random, factor.PriorMean, factor.PriorDeviation * (times?.Invoke(factor.Kind) ?? 1));
}
