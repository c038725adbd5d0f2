using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;

namespace Chamber.Core.Tests.Diagnosis;

/// <summary>
/// Seed, spot, water, or me? Batches whose waiting is over. The order of the causes and their bounds are the program's own, no source
/// (docs/arithmetic.md).
/// </summary>
public class BatchDiagnosisTests
{
    internal static readonly BatchCase Good = new()
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
        var diagnosis = BatchDiagnosis.Of(Good);
        Assert.Equal((Blame.Nobody, "It went well: 10 of 12 up, 82 % were expected."), (diagnosis.Blame, diagnosis.Sentence));
        Assert.Equal(2, diagnosis.Loss.Seeds, 9);
    }

    [Fact]
    public void Few_from_a_lot_known_to_be_poor_is_the_seed() =>
        Assert.Equal(new WeakLot(8.0 / 24), BatchDiagnosis.Of(Good with { Count = new(4, 12), Lot = new(8, 16) }).Cause);

    [Fact]
    public void Few_after_hot_hours_is_the_spot()
    {
        var diagnosis = BatchDiagnosis.Of(Good with { Count = new(3, 12), Hours = new(0, 40, 160, 0), StandShare = 0.5 });
        Assert.Equal(Blame.Spot, diagnosis.Blame);
        Assert.Contains("40 h above", diagnosis.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Few_on_a_spot_that_nobody_measured_has_no_cause() =>
        Assert.Equal(Blame.CannotSay, BatchDiagnosis.Of(Good with { Count = new(3, 12), Hours = new(0, 0, 50, 110) }).Blame);

    [Fact]
    public void Mould_is_the_water_and_light_seed_in_the_dark_is_the_grower()
    {
        Assert.Equal(Blame.Water, BatchDiagnosis.Of(Good with { Count = new(3, 12), Water = WaterTrouble.Mould }).Blame);
        Assert.Equal(Blame.Grower, BatchDiagnosis.Of(Good with { Count = new(3, 12), WrongLight = true }).Blame);
    }

    [Fact]
    public void Late_on_a_cold_spot_is_the_spot_and_says_both_windows()
    {
        var diagnosis = BatchDiagnosis.Of(Good with { SeenDays = (11, 12), Hours = new(120, 0, 280, 0) });
        Assert.Equal(Blame.Spot, diagnosis.Blame);
        Assert.Contains("the first between day 11 and 12 (forecast day 5 to 8)", diagnosis.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Seedlings_lost_afterwards_are_judged_by_what_they_were_lost_to()
    {
        Assert.Equal(Blame.Water, BatchDiagnosis.Of(Good with { Losses = [new(Some.Day(12), 4, LossCause.DampingOff)] }).Blame);
        Assert.Equal(Blame.Grower,
            BatchDiagnosis.Of(Good with { Losses = [new(Some.Day(12), 4, LossCause.Leggy)], WarmDarkHours = 41 }).Blame);
        Assert.Equal(Blame.Grower, BatchDiagnosis.Of(Good with { WarmDarkHours = 41 }).Blame);
        Assert.Equal(Blame.Nobody, BatchDiagnosis.Of(Good with { Losses = [new(Some.Day(12), 5, LossCause.Thinned)] }).Blame);
    }

    // 52 h too cold and 20 h too hot: a cooler spot would be colder still.
    [Fact]
    public void A_spot_that_was_both_too_cold_and_too_hot_wants_a_steadier_one()
    {
        var diagnosis = BatchDiagnosis.Of(Good with { Count = new(2, 12), Hours = new(52, 20, 110, 0), StandShare = 0.7 });
        Assert.Equal(CauseKind.Unsteady, diagnosis.Cause.Kind);
        Assert.Contains("52 h below", diagnosis.Sentence, StringComparison.Ordinal);
        Assert.Contains("20 h above", diagnosis.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("Choose a steadier spot", diagnosis.NextTime, StringComparison.Ordinal);
    }

    [Fact]
    public void A_late_batch_that_met_both_wants_a_steadier_spot_too() => Assert.Equal(
        CauseKind.Unsteady,
        BatchDiagnosis.Of(Good with { SeenDays = (11, 12), Hours = new(52, 20, 110, 0), StandShare = 0.95 }).Cause.Kind);

    [Fact]
    public void A_few_cold_hours_do_not_make_a_hot_spot_unsteady() => Assert.Equal(
        CauseKind.TooHot,
        BatchDiagnosis.Of(Good with { Count = new(2, 12), Hours = new(7, 90, 160, 0), StandShare = 0.3 }).Cause.Kind);

    // One of twelve from which 12 % were expected is what heat and lot explain: the water takes no part.
    [Fact]
    public void Water_is_not_blamed_for_what_heat_had_taken_already()
    {
        var diagnosis = BatchDiagnosis.Of(
            Good with { Count = new(1, 12), Hours = new(0, 90, 160, 0), StandShare = 0.15, Water = WaterTrouble.TooWet });
        Assert.Equal(CauseKind.TooHot, diagnosis.Cause.Kind);
        Assert.Equal([CauseKind.TooHot, CauseKind.TooWet], diagnosis.Evidence.Select(cause => cause.Kind));
        Assert.True(diagnosis.Loss.To(LossKind.Heat) > 8);
        Assert.Equal(0, diagnosis.Loss.To(LossKind.Water));
    }

    [Fact]
    public void Water_is_blamed_for_what_heat_and_lot_do_not_explain() => Assert.Equal(
        CauseKind.TooWet,
        BatchDiagnosis.Of(Good with { Count = new(1, 12), Water = WaterTrouble.TooWet }).Cause.Kind);

    [Fact]
    public void Of_a_weak_lot_on_a_cold_spot_what_explains_more_is_named()
    {
        Assert.Equal(CauseKind.WeakLot,
            BatchDiagnosis.Of(Good with { Count = new(2, 12), Lot = new(5, 15), Hours = new(90, 0, 160, 0) }).Cause.Kind);
        Assert.Equal(CauseKind.TooCold,
            BatchDiagnosis.Of(Good with { Count = new(0, 12), Lot = new(11, 9), Hours = new(150, 0, 160, 0) }).Cause.Kind);
    }

    [Fact]
    public void While_a_seed_can_still_be_dug_up_an_untested_lot_is_only_late()
    {
        var silent = Good with { Count = new(0, 12), SeenDays = (20, null), LotTested = false };
        Assert.Equal(CauseKind.Late, BatchDiagnosis.Of(silent with { Phase = BatchPhase.Due }).Cause.Kind);
        Assert.Equal(CauseKind.UntestedLot, BatchDiagnosis.Of(silent).Cause.Kind);
    }
}
