using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Statistics;
using Chamber.Testing;
using MathNet.Numerics.Statistics;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>Relatives teach each other, and a home its own straying. Homes are drawn from the priors; no number is published.</summary>
public sealed class PoolingTests(ITestOutputHelper output)
{
    private static readonly Instant Now = SimulatedHome.Start + Duration.FromDays(400);

    [Fact]
    public void Every_shipped_crop_has_a_family() =>
        Assert.All(CropCatalog.Shipped.Crops, crop => Assert.NotNull(CropFamilies.Of(crop)));

    [Fact]
    public void A_crop_teaches_its_relatives_a_part_and_itself_as_much_as_before()
    {
        var simulated = new SimulatedHome(new Random(11));
        BatchEvidence[] cabbages = [.. Enumerable.Range(0, 6).Select(_ => simulated.Sow(Kind("cabbage"), 40, 0.5).Evidence)];
        var (with, without) = (HomeKnowledge.Learn(cabbages, Now), HomeKnowledge.Learn(
            cabbages.Select(batch => batch with { Kind = batch.Kind with { Family = null } }), Now));

        Assert.Equal(Shift(without, Kind("cabbage") with { Family = null }), Shift(with, Kind("cabbage")), 1e-6);
        Assert.True(Shift(with, Kind("kale")) > Shift(without, Kind("kale") with { Family = null }) + 0.02);
        Assert.Equal(Shift(without, Kind("tomato") with { Family = null }), Shift(with, Kind("tomato")), 1e-6);
        var family = with.Learned.Single(factor => factor.Kind == FactorKind.Family);
        Assert.StartsWith("the family Brassicaceae here is ", family.Words, StringComparison.Ordinal);
        Assert.Equal(with.Learned.Single(factor => factor.Kind == FactorKind.Crop).Mid, Math.Exp(Shift(with, Kind("cabbage"))
            - with.Learned.Where(factor => factor.Kind == FactorKind.Method).Sum(factor => Math.Log(factor.Mid))
            + Math.Log(with.Learned.Single(factor => factor.Kind == FactorKind.Home).Mid)), 1e-6);
    }

    // Over drawn homes in which families share what is assumed, three batches of one crop bring a relative nearer to its own truth.
    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Over_many_homes_relatives_are_foretold_better_with_the_family()
    {
        var random = new Random(19);
        var (with, without) = (new List<double>(), new List<double>());
        for (var home = 0; home < 200; home++)
        {
            var simulated = new SimulatedHome(random);
            BatchEvidence[] seen = [.. Enumerable.Range(0, 4).Select(_ => simulated.Sow(Kind("cabbage")).Evidence)];
            var (_, truth) = simulated.Sow(Kind("kale"), straying: 0);
            with.Add(Error(seen, Kind("kale"), truth));
            without.Add(Error(
                [.. seen.Select(batch => batch with { Kind = batch.Kind with { Family = null } })], Kind("kale") with { Family = null },
                truth));
        }

        output.WriteLine($"root mean square of ln θ50: {Math.Sqrt(without.Mean()):0.000} alone, {Math.Sqrt(with.Mean()):0.000} by family");
        Assert.True(with.Mean() < without.Mean());

        static double Error(BatchEvidence[] seen, BatchKind kind, double truth) => Math.Pow(
            HomeKnowledge.Learn(seen, Now).PriorFor(kind, Germinability.UnknownLot).LogHalfMoments().Mean - truth, 2);
    }

    [Theory]
    [InlineData(0, 0.5, 0.97)]
    [InlineData(1.7, 1.1, 2.9)]
    public void A_home_learns_how_far_its_batches_stray(double times, double low, double high)
    {
        var random = new Random(23);
        var simulated = new SimulatedHome(random);
        var kind = Kind("tomato") with { Lot = new("packet") };
        BatchEvidence[] batches = [.. Enumerable.Range(0, 24).Select(i =>
            simulated.Sow(kind, 40, times * HomePriors.BatchDeviation * StandardNormal.Quantile((i * 7 % 24 + 0.5) / 24)).Evidence)];
        var known = HomeKnowledge.Learn(batches, Now);
        output.WriteLine($"strays {times} times as far as assumed: variance times {known.StrayingScale:0.00}; "
            + $"{known.OddBatches.Count} odd");
        Assert.InRange(known.StrayingScale, low, high);
        Assert.Equal(1, HomeKnowledge.Learn(batches.Take(7), Now).StrayingScale);
    }

    private static BatchKind Kind(string name) => BatchKind.Of(
        Some.Batch() with { Lot = null }, Some.Crop(name)) with { Crop = Some.Crop(name).Id };

    private static double Shift(HomeKnowledge known, BatchKind kind) =>
        known.PriorFor(kind, Germinability.UnknownLot).LogHalfMoments().Mean - Math.Log(kind.Profile.HalfWarmHours.CelsiusHours);
}
