using Chamber.Core.Climate;
using Chamber.Core.Trials;
using Chamber.Testing;
using MathNet.Numerics.Distributions;

namespace Chamber.Core.Tests.Trials;

/// <summary>Whether a fit says that its law does not hold, on drawn trials whose truth is known; seeds are fixed.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class TrialGoodnessTests(ITestOutputHelper output)
{
    private static readonly string[] Dishes = ["A", "B"];

    private static readonly double[] Celsius = [12, 15, 18, 21, 24, 27, 30, 33];

    [Fact]
    public void A_law_that_holds_is_hardly_ever_said_not_to()
    {
        var fits = Enumerable.Range(0, 12)
            .Select(home => TrialFit.Of(SimulatedTrials.Usual.Draw(500 + home, 60, 0.5, 40, Celsius))).ToArray();

        Assert.True(fits.Count(fit => !fit.Goodness.Holds) <= 1);
        Assert.InRange(fits.Average(fit => fit.Goodness.Deviance / fit.Goodness.Freedom), 0.6, 1.5);
    }

    [Fact]
    public void A_law_that_does_not_hold_is_said_and_widens_the_intervals()
    {
        // The rate goes up and down again between 15 and 27 °C, as no cardinal temperatures have it.
        var bent = Drawn(7, 200, celsius => celsius is > 17 and < 22 ? 12 : 300 / (celsius - 8), _ => 0);
        var fit = TrialFit.Of(bent);

        Assert.False(fit.Goodness.Holds);
        Assert.True(fit.Goodness.Dispersion > 3);
        var straight = TrialFit.Of(Drawn(7, 200, celsius => 300 / (Math.Min(celsius, 30) - 8), _ => 0));
        output.WriteLine($"deviance {fit.Goodness.Deviance:0} of {fit.Goodness.Freedom}, held {straight.Goodness.Deviance:0.0}");
        Assert.True(Width(fit.Spread) > 1.5 * Width(straight.Spread));
    }

    // Drawn with ln σ rising by 0.06 a kelvin: 0.12 at 12 °C and 0.35 at 30. Twenty sets drawn with one spread are the other side.
    [Fact]
    public void A_spread_that_changes_with_temperature_is_told_from_one_that_does_not()
    {
        var rising = TrialFit.Of(Spreading(17, celsius => 0.12 * Math.Exp(0.06 * (celsius - 12))));
        Assert.NotNull(rising.SpreadChange);
        output.WriteLine($"spread {rising.SpreadChange.AtColdest:0.00} to {rising.SpreadChange.AtWarmest:0.00}, chance "
            + $"{rising.SpreadChange.Chance:0.0000}; deviance {rising.Goodness.Deviance:0.0} of {rising.Goodness.Freedom}");
        Assert.InRange(rising.SpreadChange.AtWarmest / rising.SpreadChange.AtColdest, 1.7, 5);
        Assert.True(rising.Goodness.Holds);
        Assert.True(Enumerable.Range(0, 10).Count(set => TrialFit.Of(Spreading(200 + set, _ => 0.25)).SpreadChange is not null) <= 1);
    }

    private static IReadOnlyList<TrialCount> Spreading(int seed, Func<double, double> spread) =>
        [.. new[] { 12.0, 16, 20, 24, 28, 30 }.SelectMany(celsius => new SimulatedTrials(
            SimulatedTrials.Cardinals, 2400, spread(celsius), 0.9).Draw(seed + (int)celsius, 120, 0.25, 60, celsius))];

    [Fact]
    public void Dishes_that_differ_by_more_than_chance_widen_the_intervals()
    {
        var alike = TrialFit.Of(Drawn(3, 50, celsius => 300 / (Math.Min(celsius, 30) - 8), _ => 0));
        var apart = TrialFit.Of(Drawn(3, 50, celsius => 300 / (Math.Min(celsius, 30) - 8), random => Normal.Sample(random, 0, 0.2)));

        Assert.InRange(alike.Goodness.DishDispersion!.Value, 0.5, 1.7);
        Assert.True(apart.Goodness.DishDispersion > 2);
        Assert.True(Width(apart.Spread) > Width(alike.Spread));
    }

    [Fact]
    public void A_temperature_left_out_is_foretold_no_worse_than_by_a_smooth_curve()
    {
        var (law, smooth) = (new List<double>(), new List<double>());
        foreach (var home in Enumerable.Range(0, 8))
        {
            foreach (var curve in TrialFit.Of(SimulatedTrials.Usual.Draw(900 + home, 60, 0.5, 40, Celsius)).Curves)
            {
                if (curve is { HalfDays: { } days, WithoutHalfDays: { } without, SmoothHalfDays: { } other })
                {
                    law.Add(Math.Log(without / days));
                    smooth.Add(Math.Log(other / days));
                }
            }
        }

        output.WriteLine($"{law.Count} left out: law {Middle(law):0.000}, smooth {Middle(smooth):0.000} (median of ln)");
        Assert.True(Middle(law) <= Middle(smooth));
    }

    private static double Middle(List<double> errors) => errors.Select(Math.Abs).Order().ElementAt(errors.Count / 2);

    private static double Width(TrialEstimate estimate) => Math.Log(estimate.High!.Value / estimate.Low!.Value);

    /// <summary>Two dishes at each temperature, looked at every half day for forty days; each dish is that much slower, ln.</summary>
    private static TrialCount[] Drawn(int seed, int seeds, Func<double, double> halfDays, Func<Random, double> slower)
    {
        var random = new Random(seed);
        return [.. Celsius.SelectMany(celsius => Dishes.SelectMany(dish => Dish(celsius, dish)))];

        IEnumerable<TrialCount> Dish(double celsius, string dish)
        {
            var own = Math.Log(halfDays(celsius)) + slower(random);
            return Enumerable.Range(0, seeds)
                .Select(_ => random.NextDouble() < 0.9 ? Math.Exp(Normal.Sample(random, own, 0.25)) : double.PositiveInfinity)
                .GroupBy(day => day < 60 ? (int)(day / 0.5) : -1)
                .Select(look => (look.Key < 0
                    ? new TrialCount(Temperature.FromCelsius(celsius), 60, null, look.Count())
                    : new(Temperature.FromCelsius(celsius), look.Key * 0.5, (look.Key + 1) * 0.5, look.Count())) with { Dish = dish });
        }
    }
}
