using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;
using Chamber.Core.Spots;
using Chamber.Testing;

namespace Chamber.Core.Tests.Forecasts.Together;

/// <summary>What a home says moves others by no more than a bound, and can be taken back. Homes are drawn from seeds.</summary>
public sealed class BoundedInfluenceTests(ITestOutputHelper output)
{
    // Ten homes say the most that a file may, about everything, as surely as it may, in as many batches as it may.
    [Fact]
    [Trait(Tier.Name, Tier.Whole)]
    public void Ten_homes_of_300_that_lie_move_nothing_by_more_than_the_bound()
    {
        var random = new Random(41);
        var simulated = new SimulatedHomes(random);
        HomeExperience[] homes = [.. Enumerable.Range(0, 300).Select(_ => simulated.Give(2 + random.Next(13)))];
        var honest = SharedFit.Of(homes, CropCatalog.Shipped)!;
        foreach (var lie in new[] { 1.5, -1.5 })
        {
            HomeExperience[] with = [.. homes.Skip(10),
                .. homes.Take(10).Select(home => new HomeExperience(home.Home, [.. Lies(lie, honest)]))];
            var misled = SharedFit.Of(with, CropCatalog.Shipped)!;
            var moved = honest.Factors.Select(factor => (Factor: factor, Now: misled.Factors.Single(
                    other => other.Kind == factor.Kind && other.Name == factor.Name)))
                .Select(pair => (pair.Factor, By: Math.Abs(pair.Now.Mean - pair.Factor.Mean), Most: 10 * pair.Now.MovedByOne)).ToArray();
            foreach (var (factor, by, most) in moved)
            {
                output.WriteLine($"{lie} {factor.Kind} {factor.Name}: {factor.Mean:0.000}, moved {by:0.000}, at most {most:0.000}; "
                    + $"{factor.Homes} homes");
                Assert.True(by <= most);
            }

            // Crops, methods and kinds of spot as a newcomer meets them: no sum moves by more than a tenth.
            Assert.All(honest.Learned.Zip(misled.Learned), pair =>
                Assert.InRange(Math.Abs(Math.Log(pair.Second.Mid / pair.First.Mid)), 0, 0.1));
        }
    }

    [Theory]
    [InlineData(0.9)]
    [InlineData(1.5)]
    [InlineData(-1.5)]
    public void One_home_moves_the_others_by_no_more_than_the_bound(double lie)
    {
        HomeExperience[] homes = [.. Enumerable.Range(1, 20).Select(at => Home(at, 0.01 * (at % 5)))];
        var (before, after) = (Crop(homes), Crop([.. homes, Home(21, lie)]));
        output.WriteLine($"{before.Mean:0.000} to {after.Mean:0.000}, at most {after.MovedByOne:0.000} by one");
        Assert.InRange(Math.Abs(after.Mean - before.Mean), 1e-4, after.MovedByOne);
    }

    [Fact]
    public void Taken_back_it_is_as_if_it_had_never_been_given()
    {
        HomeExperience[] homes = [.. Enumerable.Range(1, 12).Select(at => Home(at, 0.02 * (at % 5)))];
        Assert.Equal(Middle(homes), Middle([.. homes, new(new string('f', 32), [])]), 1e-12);
        Assert.NotEqual(Middle(homes), Middle([.. homes, Home(13, 0.3)]), 1e-4);
        Assert.Equal(Middle(homes), Middle([.. homes.Reverse()]), 1e-6);
    }

    // The middle is found again from where all of them put it; how far homes lie apart stays as all of them say.
    [Fact]
    public void Without_one_home_it_is_nearly_what_the_others_alone_say()
    {
        var simulated = new SimulatedHomes(new Random(7));
        HomeExperience[] homes = [.. Enumerable.Range(0, 30).Select(_ => simulated.Give(6))];
        var all = SharedFit.OfAll(homes, CropCatalog.Shipped)!;
        var without = all.Without(homes[3].Home)!;
        var alone = SharedFit.Of([.. homes.Where(home => home != homes[3])], CropCatalog.Shipped)!;
        Assert.Equal((29, alone.Batches), (without.Homes, without.Batches));
        foreach (var factor in alone.Factors)
        {
            var found = without.Factors.Single(other => (other.Kind, other.Name) == (factor.Kind, factor.Name));
            Assert.Equal(factor.Homes, found.Homes);
            Assert.InRange(Math.Abs(found.Mean - factor.Mean), 0, 0.15 * factor.Deviation);
            Assert.InRange(found.Deviation / factor.Deviation, 0.9, 1.1);
        }

        Assert.Equal(30, all.Without(new string('f', 32))!.Homes);
    }

    [Fact]
    public void What_was_kept_as_numbers_says_the_same()
    {
        var simulated = new SimulatedHomes(new Random(8));
        var learned = SharedFit.Of([.. Enumerable.Range(0, 10).Select(_ => simulated.Give(4))], CropCatalog.Shipped)!;
        var again = SharedKnowledge.Of(learned.ToNumbers());
        Assert.Equal(learned.Learned, again.Learned);
        Assert.Equal((learned.Homes, learned.Batches, learned.BatchDeviation), (again.Homes, again.Batches, again.BatchDeviation));
        Assert.Throws<FormatException>(() => SharedKnowledge.Of(learned.ToNumbers() with { Root = [] }));
    }

    [Fact]
    public void A_batch_stated_against_another_table_is_left_out()
    {
        var batch = Batch(0.2);
        Assert.Null(SharedFit.Of([new(new string('a', 32), [batch with { BaseCelsius = batch.BaseCelsius + 1 }])], CropCatalog.Shipped));
        Assert.Null(SharedFit.Of([new(new string('a', 32), [batch with { HalfWarmHours = 2 * batch.HalfWarmHours }])],
            CropCatalog.Shipped));
        Assert.Equal(1, SharedFit.Of([new(new string('a', 32), [batch])], CropCatalog.Shipped)!.Batches);
    }

    private static double Middle(HomeExperience[] homes) => Crop(homes).Mean;

    private static SharedFactor Crop(HomeExperience[] homes) =>
        SharedFit.Of(homes, CropCatalog.Shipped)!.Factors.Single(factor => factor.Kind == FactorKind.Crop);

    private static HomeExperience Home(int number, double shift) => new($"{number:x32}", [Batch(shift), Batch(shift + 0.1)]);

    private static BatchExperience Batch(double shift)
    {
        var tomato = Some.Crop("tomato");
        return new(tomato.Id, Math.Round(tomato.Profile.HalfWarmHours.CelsiusHours, 2),
            Math.Round(tomato.Profile.Cardinals.Base.Celsius, 2), SowingMethod.CoveredMix) { Speed = new(shift, 0.1), Lot = 1 };
    }

    private static IEnumerable<BatchExperience> Lies(double shift, SharedKnowledge honest)
    {
        Crop[] crops = [.. honest.Factors.Where(factor => factor.Kind == FactorKind.Crop)
            .Select(factor => CropCatalog.Shipped.Require(factor.Name))];
        SpotKind[] spots = [SpotKind.HeatMat, SpotKind.Sill, SpotKind.BoilerCupboard, SpotKind.Shelf];
        for (var at = 0; at < (int)Bounds.ExperienceBatches.High; at++)
        {
            var crop = crops[at % crops.Length];
            yield return new(crop.Id, crop.Profile.HalfWarmHours.CelsiusHours, crop.Profile.Cardinals.Base.Celsius,
                at % 2 == 0 ? SowingMethod.CoveredMix : SowingMethod.OpenMix)
            {
                Spot = spots[at / crops.Length % 4], SeedYears = at / crops.Length % 3 * 2, Lot = at + 1, Speed = new(shift, 0.01),
            };
        }
    }
}
