using Chamber.Core.Batches;
using Chamber.Core.Reviews;
using Chamber.Core.Statistics;

namespace Chamber.Core.Tests.Reviews;

public class VerdictTests
{
    private static readonly BatchFacts Good = new()
    {
        Crop = Some.Crop("tomato"),
        Count = new(10, 12),
        Lot = new(18, 4),
        LotTested = true,
        Hours = new(2, 0, 160, 4),
        ForecastDays = (5, 8),
        SeenDays = (6, 7),
    };

    [Fact]
    public void A_good_batch_blames_nobody()
    {
        var verdict = Verdict.On(Good);
        Assert.Equal((Blame.Nobody, "It went well: 10 of 12 up, 82 % were expected."), (verdict.Blame, verdict.Sentence));
    }

    [Fact]
    public void Few_from_a_lot_known_to_be_poor_is_the_seed() =>
        Assert.Equal(Blame.Seed, Verdict.On(Good with { Count = new(4, 12), Lot = new(8, 16) }).Blame);

    [Fact]
    public void Few_after_hot_hours_is_the_spot()
    {
        var verdict = Verdict.On(Good with { Count = new(3, 12), Hours = new(0, 40, 160, 0), StandShare = 0.5 });
        Assert.Equal(Blame.Spot, verdict.Blame);
        Assert.Contains("40 h above", verdict.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Few_on_a_spot_that_nobody_measured_has_no_verdict() =>
        Assert.Equal(Blame.CannotSay, Verdict.On(Good with { Count = new(3, 12), Hours = new(0, 0, 50, 110) }).Blame);

    [Fact]
    public void Mould_is_the_water_and_light_seed_in_the_dark_is_the_grower()
    {
        Assert.Equal(Blame.Water, Verdict.On(Good with { Count = new(3, 12), Water = WaterTrouble.Mould }).Blame);
        Assert.Equal(Blame.Grower, Verdict.On(Good with { Count = new(3, 12), WrongLight = true }).Blame);
    }

    [Fact]
    public void Late_on_a_cold_spot_is_the_spot_and_says_both_windows()
    {
        var verdict = Verdict.On(Good with { SeenDays = (11, 12), Hours = new(120, 0, 280, 0) });
        Assert.Equal(Blame.Spot, verdict.Blame);
        Assert.Contains("first up between day 11 and 12 (forecast day 5 to 8)", verdict.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Seedlings_lost_afterwards_are_judged_by_what_they_were_lost_to()
    {
        Assert.Equal(Blame.Water, Verdict.On(Good with { Losses = [new(Some.Day(12), 4, LossCause.DampingOff)] }).Blame);
        Assert.Equal(Blame.Grower, Verdict.On(Good with { Losses = [new(Some.Day(12), 4, LossCause.Leggy)], WarmDarkHours = 41 }).Blame);
        Assert.Equal(Blame.Grower, Verdict.On(Good with { WarmDarkHours = 41 }).Blame);
        Assert.Equal(Blame.Nobody, Verdict.On(Good with { Losses = [new(Some.Day(12), 5, LossCause.Thinned)] }).Blame);
    }

    [Fact]
    public void A_batch_on_time_that_is_not_over_stays_open() =>
        Assert.Equal(Blame.StillOpen, Verdict.On(Good with { IsOver = false, Count = new(1, 12), SeenDays = (4, null) }).Blame);

    [Fact]
    public void A_season_names_the_better_spot_only_when_it_is_more_than_chance()
    {
        BatchOutcome One(string spot, int up, int of) =>
            new(new("T1"), new("tomato"), new("lot-1"), new(spot), SowingMethod.CoveredMix, new SeedCount(up, of), 6, up, 2m, Verdict.On(Good));
        var clear = SeasonReview.Of([One("cupboard", 38, 40), One("sill", 10, 40)], new(4, 0, 0, 0, 48), 2.50m);
        Assert.StartsWith("Sow tomato on cupboard rather than on sill", clear.NextYear[0], StringComparison.Ordinal);
        Assert.Equal((48, 4m, 48 * 2.50m - 4m), (clear.PlantedOut, clear.Cost.Total, clear.Saved));
        Assert.Empty(SeasonReview.Of([One("cupboard", 11, 14), One("sill", 7, 15)], new(0, 0, 0, 0, 18), null).NextYear);
    }
}
