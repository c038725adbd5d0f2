using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;
using MathNet.Numerics.Statistics;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts.Learning;

public class HomeKnowledgeTests(ITestOutputHelper output)
{
    private static readonly Instant Now = SimulatedHome.Start + Duration.FromDays(120);

    [Fact]
    public void After_three_batches_the_learner_beats_the_table_despite_an_odd_batch()
    {
        var random = new Random(7);
        var (fixedErrors, learned, fooled, without) = (new List<double>(), new List<double>(), new List<double>(), new List<double>());
        for (var home = 0; home < 150; home++)
        {
            var simulated = new SimulatedHome(random);
            var kind = Kind(SowingMethod.CoveredMix) with { Lot = new LotId("packet") };
            var three = Enumerable.Range(0, 3).Select(_ => simulated.Sow(kind).Evidence).ToArray();
            var odd = simulated.Sow(kind, straying: Math.Log(2)).Evidence;
            var (fourth, truth) = simulated.Sow(kind);
            fixedErrors.Add(Math.Abs(Math.Log(kind.Profile.HalfWarmHours.CelsiusHours) - truth));
            learned.Add(Error(three, fourth, truth));
            fooled.Add(Error([.. three, odd], fourth, truth));
            without.Add(Error([], fourth, truth));
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"median error of ln θ50: table {fixedErrors.Median():0.000}, after three {learned.Median():0.000}, with an odd one "
                + $"{fooled.Median():0.000}"));
        Assert.True(learned.Median() < 0.6 * fixedErrors.Median());
        Assert.True(fooled.Median() < 1.25 * learned.Median());
        Assert.Equal(fixedErrors.Median(), without.Median(), 1e-9);
    }

    [Fact]
    public void Towels_that_are_a_fifth_quicker_than_the_table_are_said_to_be()
    {
        var random = new Random(3);
        var simulated = new SimulatedHome(random);
        var kind = Kind(SowingMethod.DampTowel);
        var target = Math.Log(0.8) - TrueFactorSum(simulated, kind);
        var batches = Enumerable.Range(0, 8).Select(_ => simulated.Sow(kind, 40, target + 0.04 * (random.NextDouble() - 0.5)).Evidence);

        var towels = HomeKnowledge.Learn(batches, Now).Learned.Single(factor => factor.Kind == FactorKind.Method);

        Assert.Equal(8, towels.Batches);
        Assert.True(towels.IsProved, towels.Words);
        // Batches of which nobody wrote the lot down say less, so the middle lies up to an eighth off.
        Assert.InRange(towels.Mid, 0.7, 0.9);
        Assert.StartsWith("on towels here everything is ", towels.Words, StringComparison.Ordinal);
        Assert.Contains("% faster than the table; from 8 batches; likely between ", towels.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void An_odd_batch_is_named_as_such()
    {
        var simulated = new SimulatedHome(new Random(5));
        var kind = Kind(SowingMethod.CoveredMix) with { Lot = new LotId("packet") };
        var batches = Enumerable.Range(0, 6).Select(i => simulated.Sow(kind, 40, i == 4 ? Math.Log(2.2) : 0).Evidence).ToArray();

        Assert.Equal(batches[4].Id, Assert.Single(HomeKnowledge.Learn(batches, Now).OddBatches).Batch);
    }

    [Fact]
    public void Nothing_is_learned_from_nothing_and_every_factor_keeps_its_prior()
    {
        var kind = Kind(SowingMethod.CoveredMix);
        var prior = HomeKnowledge.Learn([], Now).PriorFor(kind, Germinability.UnknownLot);

        Assert.Equal(Math.Log(kind.Profile.HalfWarmHours.CelsiusHours), prior.LogHalf[0].Mean, 1e-12);
        Assert.Empty(HomeKnowledge.Nothing.Learned);
    }

    [Fact]
    public void The_same_batches_in_another_order_teach_the_same()
    {
        var simulated = new SimulatedHome(new Random(11));
        var batches = new[] { SowingMethod.CoveredMix, SowingMethod.DampTowel, SowingMethod.OpenMix, SowingMethod.CoveredMix }
            .Select(method => simulated.Sow(Kind(method)).Evidence).ToArray();

        Assert.Equal(HomeKnowledge.Learn(batches, Now).Learned, HomeKnowledge.Learn(batches.Reverse(), Now).Learned);
    }

    [Fact]
    public void A_batch_that_is_still_waited_for_does_not_count_its_own_looks_twice()
    {
        var simulated = new SimulatedHome(new Random(13));
        var kind = Kind(SowingMethod.CoveredMix);
        var others = Enumerable.Range(0, 3).Select(_ => simulated.Sow(kind).Evidence).ToArray();
        var own = simulated.Sow(kind).Evidence;

        var with = HomeKnowledge.Learn([.. others, own], Now).PriorFor(kind, Germinability.UnknownLot, own.Id);
        var without = HomeKnowledge.Learn(others, Now).PriorFor(kind, Germinability.UnknownLot);

        Assert.Equal(without.LogHalf[0].Mean, with.LogHalf[0].Mean, 0.01);
        Assert.Equal(without.LogHalf[0].Deviation, with.LogHalf[0].Deviation, 0.01);
    }

    [Fact]
    public void A_lot_that_failed_once_is_trusted_less_the_next_time()
    {
        var lot = new LotId("old-packet");
        var kind = Kind(SowingMethod.CoveredMix) with { Lot = lot };
        var failed = new BatchEvidence(
            new BatchId("F1"), kind, SeenCounts.Of(30, [(2000, 1), (6000, 4)]), Germinability.UnknownLot, SimulatedHome.Start, Now);
        var home = HomeKnowledge.Learn([failed], Now);

        Assert.True(home.PriorFor(kind, Germinability.UnknownLot).Germinable.Mean < 0.6);
        Assert.Equal(Germinability.UnknownLot, home.PriorFor(kind with { Lot = new LotId("other") }, Germinability.UnknownLot).Germinable);
    }

    [Fact]
    public void Old_batches_say_less_than_new_ones()
    {
        var simulated = new SimulatedHome(new Random(17));
        var kind = Kind(SowingMethod.CoveredMix);
        var batches = Enumerable.Range(0, 3).Select(_ => simulated.Sow(kind, 40, 0.2).Evidence).ToArray();

        var fresh = HomeKnowledge.Learn(batches, Now).PriorFor(kind, Germinability.UnknownLot);
        var old = HomeKnowledge.Learn(batches, Now + Duration.FromDays(5 * 365)).PriorFor(kind, Germinability.UnknownLot);

        Assert.True(old.LogHalf[0].Deviation > fresh.LogHalf[0].Deviation);
    }

    private static BatchKind Kind(SowingMethod method) => new(SomeCrops.Tomato.Id, SomeCrops.Tomato.Profile, method, null);

    private static double Error(IReadOnlyList<BatchEvidence> before, BatchEvidence batch, double truth) =>
        Math.Abs(HomeKnowledge.Learn(before, Now).PriorFor(batch.Kind, batch.Germinable).LogHalf[0].Mean - truth);

    /// <summary>What the drawn factors of a home add up to, found by a batch that doesn't stray.</summary>
    private static double TrueFactorSum(SimulatedHome home, BatchKind kind) =>
        home.Sow(kind, straying: 0).TrueLogHalf - Math.Log(kind.Profile.HalfWarmHours.CelsiusHours);
}
