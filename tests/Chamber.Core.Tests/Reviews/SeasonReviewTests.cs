using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Diagnosis;
using Chamber.Core.Plans;
using Chamber.Core.Reviews;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;

namespace Chamber.Core.Tests.Reviews;

/// <summary>A season added up, and what it advises.</summary>
public class SeasonReviewTests
{
    private static readonly PlantCost Free = new(0, 0, 0, 0, 0);

    [Fact]
    public void It_names_the_better_spot_only_when_it_is_more_than_chance()
    {
        var clear = SeasonReview.Of([One("cupboard", 38, 40), One("sill", 10, 40)], new(4, 0, 0, 0, 48), 2.50m);
        Assert.StartsWith("Sow tomato on cupboard rather than on sill", clear.NextYear[0], StringComparison.Ordinal);
        Assert.Equal((48, 4m, 48 * 2.50m - 4m), (clear.PlantedOut, clear.Cost.Total, clear.Saved));
        Assert.Empty(SeasonReview.Of([One("cupboard", 11, 14), One("sill", 7, 15)], Free, null).NextYear);
    }

    [Fact]
    public void What_is_still_coming_up_counts_against_nothing()
    {
        var season = SeasonReview.Of([One("cupboard", 11, 12), One("sill", 0, 40, "T2") with { IsSettled = false }], Free, null);
        Assert.Equal([new BatchId("T2")], season.StillComing);
        Assert.Equal(["cupboard"], season.Spots.Select(line => line.Name));
        Assert.Empty(season.NextYear);
    }

    [Fact]
    public void A_lot_that_gave_little_is_to_be_replaced_unless_the_spot_was_to_blame()
    {
        Assert.Contains("Test lot lot-1 on a towel before you sow more of it: under half of it came up.",
            SeasonReview.Of([One("cupboard", 3, 40, cause: new WeakLot(0.1))], Free, null).NextYear);
        Assert.Empty(SeasonReview.Of([One("mat", 3, 40, cause: new TooHot(90, 0.1, Still: false))], Free, null).NextYear);
    }

    [Fact]
    public void The_first_came_between_two_looks_and_on_no_day_that_nobody_saw()
    {
        // The median lies between that of the lower ends and that of the upper ends, because each day does.
        var line = Assert.Single(SeasonReview.Of([One("cupboard", 11, 12) with { First = (0, 3.6) },
            One("cupboard", 9, 12, "T2") with { First = (2, 4) }, One("cupboard", 0, 12, "T3") with { First = null }], Free, null).Spots);
        Assert.Equal((1.0, 3.8), (line.DaysAfter, line.DaysBy));
    }

    private static BatchOutcome One(string spot, int up, int of, string name = "T1", Cause? cause = null) =>
        new(new(name), new("tomato"), new LotId("lot-1"), new(spot), SowingMethod.CoveredMix, new SeedCount(up, of), (4, 8), up, 2m,
            new(BatchPhase.Over, cause ?? new WentWell(), [], new(of, [new(LossKind.Unknown, of - up)]), "It went so.", "", ""));
}
