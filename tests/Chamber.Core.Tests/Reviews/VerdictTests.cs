using Chamber.Core.Batches;
using Chamber.Core.Reviews;

namespace Chamber.Core.Tests.Reviews;

/// <summary>
/// Whose fault a batch was: the order of the questions and their bounds are the program's own, no source (docs/arithmetic.md).
/// </summary>
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
    public void A_spot_that_is_too_hot_is_said_before_anything_is_late()
    {
        var verdict = Verdict.On(Good with { IsOver = false, Count = new(0, 16), SeenDays = (4, null), Hours = new(0, 96, 96, 0), StandShare = 0.02 });
        Assert.Equal(Blame.Spot, verdict.Blame);
        Assert.StartsWith("The spot is too hot: 0 of 16 up so far, with 96 h above", verdict.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Late_on_a_hot_spot_is_the_spot_though_it_was_warm_enough()
    {
        var verdict = Verdict.On(Good with { IsOver = false, Count = new(0, 16), SeenDays = (9, null), Hours = new(0, 220, 220, 0), StandShare = 0.1 });
        Assert.Equal(Blame.Spot, verdict.Blame);
        Assert.StartsWith("The spot is too hot: nothing up by day 9", verdict.Sentence, StringComparison.Ordinal);
    }
}
