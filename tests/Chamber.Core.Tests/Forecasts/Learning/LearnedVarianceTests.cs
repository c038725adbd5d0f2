using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Seeds;
using Chamber.Testing;
using MathNet.Numerics.Distributions;
using NodaTime;

namespace Chamber.Core.Tests.Forecasts.Learning;

/// <summary>A home learns how far its lots, methods and crops lie apart. Homes are drawn from seeds; no number is published.</summary>
public sealed class LearnedVarianceTests(ITestOutputHelper output)
{
    private static readonly Instant Now = SimulatedHome.Start + Duration.FromDays(300);
    private static readonly string[] Crops = ["tomato", "pepper-sweet", "basil", "lettuce", "cabbage", "onion"];

    [Fact]
    public void Lots_that_differ_more_widen_the_windows_of_a_lot_to_come()
    {
        var (apart, alike) = (Learn(3, 2.5), Learn(3, 0.2));
        var (more, less) = (Of(apart, FactorKind.Lot), Of(alike, FactorKind.Lot));
        output.WriteLine($"{more.Words}; {less.Words}");
        Assert.True(more.Times > 1.5 && less.Times < 0.75);
        Assert.True(Deviation(apart) > Deviation(alike) + 0.05);
        Assert.StartsWith("lots here lie ", more.Words, StringComparison.Ordinal);
        Assert.EndsWith("from 24 batches of 12 lots", more.Words, StringComparison.Ordinal);

        static double Deviation(HomeKnowledge known) =>
            known.PriorFor(Kind("tomato", "to-come"), Germinability.UnknownLot).LogHalfMoments().Deviation;
    }

    [Fact]
    public void Seven_batches_change_no_variance_and_say_nothing()
    {
        var simulated = new SimulatedHome(new Random(5), _ => 3);
        BatchEvidence[] few = [.. Enumerable.Range(0, 8).Select(at => simulated.Sow(Kind("tomato", $"L{at}")).Evidence)];
        Assert.Empty(HomeKnowledge.Learn(few.Take(7), Now).Variances);
        Assert.NotEmpty(HomeKnowledge.Learn(few, Now).Variances);
    }

    // Each home's lots, methods and crops lie half as far to twice as far apart as assumed; what is foretold is a new lot of a known crop.
    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Windows_hold_80_percent_in_homes_that_differ_from_the_assumptions()
    {
        var random = new Random(2027);
        var held = new List<(double Times, bool Held, bool Assumed)>();
        for (var home = 0; home < 400; home++)
        {
            double[] drawn = [.. Enumerable.Range(0, 3).Select(_ => Math.Exp(Normal.Sample(random, 0, HomePriors.LogDeviationOfHomes)
                - HomePriors.LogDeviationOfHomes * HomePriors.LogDeviationOfHomes))];
            var simulated = new SimulatedHome(random, kind => VarianceGrid.KindOf(kind) is >= 0 and var at ? drawn[at] : 1);
            BatchEvidence[] seen = [.. Enumerable.Range(0, 36).Select(at =>
                simulated.Sow(Kind(Crops[at % 4], $"{Crops[at % 4]}{at / 8}", at % 3 == 0)).Evidence)];
            var (known, assumed) = (HomeKnowledge.Learn(seen, Now), HomeKnowledge.Learn(seen, Now, withVariances: false));
            for (var next = 0; next < 3; next++)
            {
                var kind = Kind(Crops[next], $"new{next}");
                var (_, truth) = simulated.Sow(kind);
                held.Add((drawn[0], Holds(known, kind, truth), Holds(assumed, kind, truth)));
            }
        }

        (double Times, bool Held, bool Assumed)[] apart = [.. held.Where(one => one.Times > 1.2)];
        (double Times, bool Held, bool Assumed)[] alike = [.. held.Where(one => one.Times < 0.6)];
        foreach (var (of, what) in new[] { (held.ToArray(), "all homes"), (apart, "lots 1.2 times as far apart or more"),
            (alike, "0.6 times or less") })
        {
            output.WriteLine($"{what}: {of.Length} new lots, {Share(of, one => one.Held):0.0%} held, with the assumed variances "
                + $"{Share(of, one => one.Assumed):0.0%}");
        }

        Assert.InRange(Share([.. held], one => one.Held), 0.78, 0.82);
        Assert.True(Off(apart, one => one.Held) < Off(apart, one => one.Assumed));
        Assert.True(Off(alike, one => one.Held) < Off(alike, one => one.Assumed));

        static double Off((double, bool, bool)[] of, Func<(double Times, bool Held, bool Assumed), bool> held) =>
            Math.Abs(Share(of, held) - 0.8);

        static double Share((double, bool, bool)[] of, Func<(double Times, bool Held, bool Assumed), bool> held) =>
            of.Count(held) / (double)of.Length;
    }

    private static bool Holds(HomeKnowledge known, BatchKind kind, double truth)
    {
        var terms = known.PriorFor(kind, Germinability.UnknownLot).LogHalf;
        var below = terms.Sum(term => term.Weight * Normal.CDF(term.Mean, term.Deviation, truth)) / terms.Sum(term => term.Weight);
        return below is > 0.1 and < 0.9;
    }

    private static HomeKnowledge Learn(int seed, double times)
    {
        var simulated = new SimulatedHome(new Random(seed), kind => kind == FactorKind.Lot ? times : 1);
        return HomeKnowledge.Learn(Enumerable.Range(0, 24).Select(at =>
            simulated.Sow(Kind(Crops[at % 3], $"{Crops[at % 3]}{at / 6}"), 40).Evidence), Now);
    }

    private static LearnedVariance Of(HomeKnowledge known, FactorKind kind) => known.Variances.Single(one => one.Kind == kind);

    private static BatchKind Kind(string crop, string lot, bool towel = false) => BatchKind.Of(Some.Batch() with
    {
        Lot = new LotId(lot), Method = towel ? SowingMethod.OpenMix : SowingMethod.CoveredMix,
    }, Some.Crop(crop)) with { Crop = Some.Crop(crop).Id, Lot = new LotId(lot) };
}
