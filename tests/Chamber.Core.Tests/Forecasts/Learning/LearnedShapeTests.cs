using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>Bases and spreads that batches at several temperatures teach. Homes are drawn from the priors, from a seed.</summary>
public sealed class LearnedShapeTests(ITestOutputHelper output)
{
    private static readonly Instant Now = SimulatedHome.Start + Duration.FromDays(400);
    private static readonly double[] Spots = [14, 18, 22, 27];
    private static readonly Crop Tomato = Some.Crop("tomato");

    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Over_many_homes_base_and_spread_come_nearer_and_ranges_hold()
    {
        var random = new Random(5);
        var (baseErrors, spreadErrors, held, shapes) = (new List<double>(), new List<double>(), 0, 0);
        const int homes = 100;
        for (var home = 0; home < homes; home++)
        {
            var simulated = new SimulatedHome(random);
            BatchEvidence[] batches = [.. Enumerable.Range(0, 12).Select(i =>
                simulated.Sow(At(Spots[i % Spots.Length]) with { Lot = new("packet") }, 40, celsius: Spots[i % Spots.Length]).Evidence)];
            foreach (var shape in HomeKnowledge.Learn(batches, Now).Shapes)
            {
                var isBase = shape.Kind == FactorKind.Base;
                var truth = isBase
                    ? shape.Table + simulated.ValueOf(Factor.BaseOf(batches[0].Kind))
                    : shape.Table * Math.Exp(simulated.ValueOf(Factor.SpreadOf(batches[0].Kind)));
                (isBase ? baseErrors : spreadErrors).Add(isBase ? shape.Mid - truth : Math.Log(shape.Mid / truth));
                held += shape.Low <= truth && truth <= shape.High ? 1 : 0;
                shapes++;
            }
        }

        output.WriteLine($"base known to {Rms(baseErrors):0.00} K of {Tomato.Profile.BaseDeviation}, ln of the spread to "
            + $"{Rms(spreadErrors):0.000} of {HomePriors.LogSpreadByCrop}; ranges hold {held / (double)shapes:0.0%} of {shapes}");
        Assert.Equal(homes, baseErrors.Count);
        Assert.Equal(homes, spreadErrors.Count);
        Assert.InRange(Rms(baseErrors), 0.2, 0.75 * Tomato.Profile.BaseDeviation);
        Assert.InRange(Rms(spreadErrors), 0.02, 0.5 * HomePriors.LogSpreadByCrop);
        Assert.InRange(held / (double)shapes, 0.75, 0.87);
    }

    [Fact]
    public void Slow_in_the_cold_and_as_ever_in_the_warmth_is_a_higher_base()
    {
        var slow = Learn(celsius => 4 * At(celsius).PerBaseKelvin);
        var shape = slow.Shapes.Single(each => each.Kind == FactorKind.Base);
        output.WriteLine(shape.Words);
        Assert.True(shape.IsProved);
        Assert.InRange(shape.Mid - shape.Table, 1.5, 4.5);
        Assert.Equal((14, 27, 12), (shape.CoolestCelsius, shape.WarmestCelsius, shape.Batches));
        Assert.StartsWith("the base of tomato here is ", shape.Words, StringComparison.Ordinal);
        Assert.Contains(" K higher than the table's, ", shape.Words, StringComparison.Ordinal);
        Assert.Contains("; from 12 batches at 14 to 27 °C; likely between ", shape.Words, StringComparison.Ordinal);

        // The forecast in the cold moves by more than that in the warmth.
        var even = Learn(_ => 0);
        Assert.True(Half(slow, 13) > Half(even, 13) * 1.15);
        Assert.InRange(Half(slow, 22) / Half(even, 22), 0.9, 1.1);
        Assert.InRange(even.Shapes.Single(each => each.Kind == FactorKind.Base).Mid - Tomato.Profile.Cardinals.Base.Celsius, -1.2, 1.2);
    }

    [Fact]
    public void Batches_at_one_temperature_tell_no_base()
    {
        var simulated = new SimulatedHome(new Random(3));
        var known = HomeKnowledge.Learn(
            [.. Enumerable.Range(0, 12).Select(_ => simulated.Sow(At(14), 40, celsius: 14).Evidence)], Now);
        Assert.DoesNotContain(known.Shapes, shape => shape.Kind == FactorKind.Base);
        Assert.Contains(known.Shapes, shape => shape.Kind == FactorKind.Spread);
        Assert.Empty(HomeKnowledge.Nothing.Shapes);
    }

    [Fact]
    public void A_first_batch_in_the_cold_is_in_more_doubt_than_one_in_the_warmth()
    {
        var (cold, warm) = (Doubt(12), Doubt(22));
        Assert.True(cold > warm);
        Assert.Equal(Math.Sqrt(Math.Pow(Doubt(Known()), 2) + Math.Pow(At(12).PerBaseKelvin * Tomato.Profile.BaseDeviation, 2)),
            cold, 0.01);

        double Known() => UsualDays.HoldAt(Tomato.IdealBand).Celsius;

        double Doubt(double celsius) => HomeKnowledge.Nothing.PriorFor(At(celsius), Germinability.UnknownLot).LogHalfMoments().Deviation;
    }

    [Theory]
    [InlineData("tomato", 14, 2.5)]
    [InlineData("lettuce", 5, -2.5)]
    [InlineData("onion", 8, 2.5)]
    [InlineData("pepper-sweet", 28, 2.5)]
    public void What_a_base_does_to_warm_hours_holds_over_its_doubt(string name, double celsius, double kelvins)
    {
        var crop = Some.Crop(name);
        var (cardinals, known) = (crop.Profile.Cardinals, UsualDays.HoldAt(crop.IdealBand));
        var moved = cardinals.WithBaseHigher(kelvins);
        var exact = Math.Log(cardinals.EffectiveWarmth(celsius) / moved.EffectiveWarmth(celsius)
            * moved.EffectiveWarmth(known) / cardinals.EffectiveWarmth(known));
        output.WriteLine($"{name} at {celsius} °C, base {kelvins} K higher: ln {exact:0.000}, to first order "
            + $"{kelvins * BaseSlope.At(crop, SomeCrops.Celsius(celsius)):0.000}");
        Assert.Equal(exact, kelvins * BaseSlope.At(crop, SomeCrops.Celsius(celsius)), 0.25 * Math.Abs(exact));
    }

    [Fact]
    public void A_crop_is_called_what_people_call_it()
    {
        var pepper = Some.Crop("pepper-sweet");
        var simulated = new SimulatedHome(new Random(31));
        var kind = BatchKind.Of(Some.Batch() with { Lot = null, Crop = pepper.Id }, pepper);
        var known = HomeKnowledge.Learn([.. Enumerable.Range(0, 8).Select(_ => simulated.Sow(kind, 40, 0, 24).Evidence)], Now);

        Assert.StartsWith("sweet pepper here is", known.Learned.Single(factor => factor.Kind == FactorKind.Crop).Words,
            StringComparison.Ordinal);
        Assert.All(known.Shapes, shape => Assert.Contains("of sweet pepper here", shape.Words, StringComparison.Ordinal));
        Assert.NotEmpty(known.Shapes);
    }

    private static HomeKnowledge Learn(Func<double, double> straying)
    {
        var simulated = new SimulatedHome(new Random(31));
        var pull = simulated.ValueOf(Factor.BaseOf(At(14)));
        return HomeKnowledge.Learn(
            [.. Enumerable.Range(0, 12).Select(i => Spots[i % Spots.Length]).Select(celsius => simulated.Sow(
                At(celsius) with { Lot = new("packet") }, 40, straying(celsius) - pull * At(celsius).PerBaseKelvin, celsius).Evidence)],
            Now);
    }

    private static double Half(HomeKnowledge known, double celsius) => known.HalfOf(At(celsius) with { Lot = new("packet") }).CelsiusHours;

    private static BatchKind At(double celsius) => BatchKind.Of(Some.Batch() with { Lot = null, Crop = Tomato.Id }, Tomato) with
    {
        PerBaseKelvin = BaseSlope.At(Tomato, SomeCrops.Celsius(celsius)),
    };

    private static double Rms(List<double> errors) => Math.Sqrt(errors.Average(error => error * error));
}
