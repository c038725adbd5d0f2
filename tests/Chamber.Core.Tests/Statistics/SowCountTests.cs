using Chamber.Core.Statistics;
using FsCheck.Xunit;

namespace Chamber.Core.Tests.Statistics;

public class SowCountTests
{
    // Exact binomial plans, computed apart from this program in plain Python (math.comb): the smallest n with P(X >= k) >= assurance.
    [Theory]
    [InlineData(1, 0.5, 0.90, 4)]
    [InlineData(1, 0.5, 0.95, 5)]
    [InlineData(1, 0.5, 0.99, 7)]
    [InlineData(1, 0.8, 0.90, 2)]
    [InlineData(1, 0.8, 0.95, 2)]
    [InlineData(1, 0.8, 0.99, 3)]
    [InlineData(6, 0.75, 0.90, 10)]
    [InlineData(6, 0.75, 0.95, 11)]
    [InlineData(6, 0.75, 0.99, 13)]
    [InlineData(12, 0.8, 0.90, 18)]
    [InlineData(12, 0.8, 0.95, 19)]
    [InlineData(12, 0.8, 0.99, 20)]
    [InlineData(72, 0.8, 0.90, 96)]
    [InlineData(72, 0.8, 0.95, 98)]
    [InlineData(72, 0.8, 0.99, 102)]
    public void The_smallest_sowing_that_is_enough_is_exact(int plants, double share, double assurance, int sow)
    {
        var count = SowCount.For(plants, share, assurance)!.Value;
        Assert.Equal(sow, count.Sow);
        Assert.True(count.Chance >= assurance);
        Assert.True(SowCount.ChanceOfAtLeast(plants, sow - 1, share) < assurance);
    }

    [Fact]
    public void The_table_of_plants_by_germination_at_ninety_percent_is_met()
    {
        double[] shares = [0.9, 0.8, 0.7, 0.6, 0.5, 0.3];
        Dictionary<int, int[]> table = new()
        {
            [1] = [1, 2, 2, 3, 4, 7],
            [2] = [3, 4, 4, 5, 7, 12],
            [4] = [5, 6, 8, 9, 12, 21],
            [6] = [8, 9, 11, 13, 17, 29],
            [12] = [15, 18, 21, 25, 31, 53],
            [24] = [29, 34, 39, 47, 57, 98],
        };
        Assert.All(table, row => Assert.Equal(row.Value, shares.Select(share => SowCount.For(row.Key, share, 0.9)!.Value.Sow)));
    }

    [Fact]
    public void Dividing_by_the_percent_is_not_enough()
    {
        // 12 / 0.8 = 15, which gives 12 plants or more only 65 times in 100.
        Assert.Equal(0.648, SowCount.ChanceOfAtLeast(12, 15, 0.8), 0.0005);
    }

    [Theory]
    [InlineData(0.9, 2)]
    [InlineData(0.8, 2)]
    [InlineData(0.7, 3)]
    [InlineData(0.6, 4)]
    [InlineData(0.5, 5)]
    [InlineData(0.4, 6)]
    [InlineData(0.3, 9)]
    public void Seeds_in_a_cell_for_nineteen_cells_in_twenty(double share, int seeds) => Assert.Equal(seeds, SowCount.PerCell(share, 0.95));

    [Fact]
    public void One_seed_in_four_is_the_very_cautious_rule()
    {
        // Common practice, no source: plan on one in four. For 12 plants that asks for 48 seeds and gives 12 of them about half the time.
        Assert.InRange(SowCount.ChanceOfAtLeast(12, 48, 0.25), 0.5, 0.6);
    }

    [Fact]
    public void A_share_that_is_doubtful_asks_for_more_seed()
    {
        var sure = SowCount.For(12, 0.8, 0.95)!.Value.Sow;
        var tested = SowCount.For(12, new ShareBelief(1 + 16, 1 + 4), survival: 1, assurance: 0.95)!.Value.Sow;
        Assert.True(tested > sure, $"{tested} against {sure}");
    }

    [Fact]
    public void Seed_that_may_well_be_dead_has_no_plan() => Assert.Null(SowCount.For(50, new ShareBelief(0.5, 20), 1, 0.999));

    [Property]
    public bool Losses_to_planting_out_never_ask_for_fewer_seeds(byte good, byte bad, byte survival)
    {
        var belief = new ShareBelief(good % 30 + 1, bad % 5 + 1);
        var kept = 0.5 + survival % 50 / 100.0;
        return SowCount.For(8, belief, kept, 0.8)?.Sow is not { } sow || sow >= SowCount.For(8, belief, 1, 0.8)!.Value.Sow;
    }

    [Fact]
    public void Cells_of_one_seed_are_the_same_as_seeds()
    {
        var belief = new ShareBelief(17, 5);
        Assert.Equal(SowCount.For(12, belief, 0.9, 0.95)!.Value, SowCount.Cells(12, 1, belief, 0.9, 0.95)!.Value);
    }

    [Theory]
    [InlineData(0, 0.5, 0.9)]
    [InlineData(1, 0, 0.9)]
    [InlineData(1, 1.1, 0.9)]
    [InlineData(1, double.NaN, 0.9)]
    [InlineData(1, 0.5, 1)]
    [InlineData(1, 0.5, 0)]
    public void Nonsense_is_refused(int plants, double share, double assurance) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SowCount.For(plants, share, assurance));
}
