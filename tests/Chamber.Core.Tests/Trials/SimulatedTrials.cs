using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Trials;

namespace Chamber.Core.Tests.Trials;

/// <summary>Trials drawn from a known profile: so many seeds at each temperature, looked at every so many days until the end.</summary>
internal sealed class SimulatedTrials(CardinalTemperatures cardinals, double halfWarmHours, double spread, Func<double, double> share)
{
    public SimulatedTrials(CardinalTemperatures cardinals, double halfWarmHours, double spread, double share)
        : this(cardinals, halfWarmHours, spread, _ => share)
    {
    }

    public static CardinalTemperatures Cardinals { get; } = new(
        Temperature.FromCelsius(8), Temperature.FromCelsius(25), Temperature.FromCelsius(30), Temperature.FromCelsius(38));

    public static SimulatedTrials Usual { get; } = new(
        new(Temperature.FromCelsius(8), Temperature.FromCelsius(25), Temperature.FromCelsius(30), Temperature.FromCelsius(38)),
            2400, 0.25, 0.85);

    /// <summary>The same, of which fewer come up where it is cool: at 12 °C half as many.</summary>
    public static SimulatedTrials CoolKills { get; } = new(
        new(Temperature.FromCelsius(8), Temperature.FromCelsius(25), Temperature.FromCelsius(30), Temperature.FromCelsius(38)), 2400, 0.25,
            celsius => celsius < 14 ? 0.45 : 0.85);

    public IReadOnlyList<TrialCount> Draw(int seed, int seeds, double every, double end, params double[] celsius)
    {
        var random = new Random(seed);
        return [.. celsius.SelectMany(temperature => At(random, Temperature.FromCelsius(temperature), seeds, every, end))];
    }

    private IEnumerable<TrialCount> At(Random random, Temperature temperature, int seeds, double every, double end)
    {
        var warmth = cardinals.EffectiveWarmth(temperature);
        return Enumerable.Range(0, seeds)
            .Select(_ => (Alive: random.NextDouble() < share(temperature.Celsius),
                Deviate: MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1)))
            .Select(drawn => drawn.Alive && warmth > 0 ? halfWarmHours * Math.Exp(spread * drawn.Deviate) / 24 / warmth
                : double.PositiveInfinity)
            .GroupBy(day => day < end ? (int)(day / every) : -1)
            .OrderBy(look => look.Key)
            .Select(look => look.Key < 0
                ? new TrialCount(temperature, end, null, look.Count())
                : new TrialCount(temperature, look.Key * every, (look.Key + 1) * every, look.Count()));
    }
}
