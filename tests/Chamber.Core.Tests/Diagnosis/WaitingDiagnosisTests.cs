using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Diagnosis;

namespace Chamber.Core.Tests.Diagnosis;

/// <summary>
/// What is the matter with a batch that is still waited for: too hot, too cold, dry, nothing measured, and not yet are told apart.
/// The order of the causes and their bounds are the program's own, no source (docs/arithmetic.md).
/// </summary>
public class WaitingDiagnosisTests
{
    private static readonly SpotAhead Fine = new(0, 0, 1);

    /// <summary>Sixteen lettuces, four days after the sowing, nothing up.</summary>
    private static readonly BatchCase Silent = new()
    {
        Crop = Some.Crop("lettuce"),
        Phase = BatchPhase.Waiting,
        Count = new(0, 16),
        Lot = new(18, 4),
        Hours = new(0, 0, 96, 0),
        Ahead = Fine,
        ForecastDays = (3, 6),
        SeenDays = (4, null),
    };

    // A lettuce on a mat at 34 °C gathers no warm-hours, as in the cold: what was measured tells the two apart.
    [Fact]
    public void A_spot_too_hot_for_any_progress_is_not_called_cold()
    {
        var hot = Silent with { Hours = new(0, 95, 96, 0), StandShare = 0.02, IsSlow = true, Ahead = new(0, 1, 0.02) };
        var diagnosis = BatchDiagnosis.Of(hot);
        Assert.Equal(CauseKind.TooHot, diagnosis.Cause.Kind);
        Assert.StartsWith("The spot is too hot: 0 of 16 up so far, with 95 h above 27 °C", diagnosis.Sentence, StringComparison.Ordinal);
        Assert.Contains("cooler", diagnosis.Advice, StringComparison.Ordinal);
        Assert.DoesNotContain("warmer", diagnosis.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void A_spot_too_cold_for_the_next_weeks_wants_a_warmer_one()
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Hours = new(96, 0, 96, 0), IsSlow = true, Ahead = new(1, 0, 1) });
        Assert.Equal(CauseKind.TooCold, diagnosis.Cause.Kind);
        Assert.Contains("warmer", diagnosis.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Hot_and_cold_are_told_from_the_spot_before_anything_was_measured()
    {
        var sown = Silent with { Hours = new(0, 0, 0, 0.2), SeenDays = (0, null), WasSeen = false, IsSlow = true };
        Assert.Equal(CauseKind.TooHot, BatchDiagnosis.Of(sown with { Ahead = new(0, 1, 0.02) }).Cause.Kind);
        Assert.Equal(CauseKind.TooCold, BatchDiagnosis.Of(sown with { Ahead = new(1, 0, 1) }).Cause.Kind);
        Assert.Equal(CauseKind.Unsteady, BatchDiagnosis.Of(sown with { Ahead = new(0.4, 0.4, 0.6) }).Cause.Kind);
        Assert.Equal(CauseKind.NotYet, BatchDiagnosis.Of(sown with { Ahead = Fine }).Cause.Kind);
    }

    [Fact]
    public void A_batch_that_was_moved_out_of_the_heat_is_not_sent_away_again()
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Hours = new(0, 60, 96, 0), StandShare = 0.4, Ahead = Fine });
        Assert.Equal(CauseKind.TooHot, diagnosis.Cause.Kind);
        Assert.StartsWith("The spot was too hot", diagnosis.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("It is better off now", diagnosis.Advice, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(WaterTrouble.DriedOut, CauseKind.DriedOut, "Wet it now")]
    [InlineData(WaterTrouble.TooWet, CauseKind.TooWet, "Pour off")]
    [InlineData(WaterTrouble.Mould, CauseKind.Mould, "Open it")]
    public void Trouble_with_water_is_said_as_such_and_not_as_cold(WaterTrouble water, CauseKind kind, string advice)
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Water = water, IsSlow = true });
        Assert.Equal(kind, diagnosis.Cause.Kind);
        Assert.StartsWith(advice, diagnosis.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_nothing_was_measured_nobody_can_say()
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Hours = new(0, 0, 0, 96), Ahead = null, IsSlow = true });
        Assert.Equal(new NotMeasured(1), diagnosis.Cause);
        Assert.Contains("thermometer", diagnosis.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void A_batch_on_time_is_not_yet_due()
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Count = new(1, 16) });
        Assert.Equal((CauseKind.NotYet, Blame.StillOpen), (diagnosis.Cause.Kind, diagnosis.Blame));
        Assert.Equal("1 of 16 up so far; nothing is late.", diagnosis.Sentence);
    }

    [Fact]
    public void A_slow_crop_on_a_spot_that_suits_it_is_not_cold() =>
        Assert.Equal(CauseKind.NotYet, BatchDiagnosis.Of(Silent with { IsSlow = true }).Cause.Kind);

    [Fact]
    public void Late_on_a_hot_spot_is_the_spot()
    {
        var diagnosis =
            BatchDiagnosis.Of(Silent with { SeenDays = (9, null), Hours = new(0, 220, 220, 0), StandShare = 0.1, Ahead = new(0, 1, 0.1) });
        Assert.StartsWith("The spot is too hot: nothing up by day 9 (forecast day 3 to 6)", diagnosis.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Late_on_a_cold_spot_is_the_spot_though_three_weeks_would_bring_it() => Assert.Equal(
        CauseKind.TooCold,
        BatchDiagnosis.Of(Silent with { SeenDays = (9, null), Hours = new(120, 0, 216, 0), Ahead = new(0.6, 0, 1) }).Cause.Kind);

    [Fact]
    public void A_batch_that_nobody_looked_at_is_looked_at_before_it_is_given_up()
    {
        var diagnosis = BatchDiagnosis.Of(Silent with { Phase = BatchPhase.Unseen, UnseenDays = 15, Count = new(9, 16) });
        Assert.Equal("Nobody has looked for 15 days: 9 of 16 up at last sight, and more may be.", diagnosis.Sentence);
        Assert.StartsWith("Look first", diagnosis.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Seedlings_in_the_warm_and_dark_come_before_the_seeds_still_to_come() => Assert.Equal(
        CauseKind.WarmAndDark,
        BatchDiagnosis.Of(Silent with { Count = new(9, 16), WarmDarkHours = 30, Hours = new(0, 60, 96, 0), StandShare = 0.4 }).Cause.Kind);

    [Fact]
    public void One_plant_lost_of_many_while_more_are_coming_is_no_success_yet() => Assert.Equal(
        CauseKind.NotYet,
        BatchDiagnosis.Of(Silent with { Count = new(9, 16), Losses = [new(Some.Day(4), 1, LossCause.Eaten)] }).Cause.Kind);

    [Fact]
    public void What_a_spot_has_in_store_is_counted_hour_by_hour()
    {
        var ahead = SpotAhead.Of(Some.Crop("tomato"), [.. new[] { 10.0, 10, 22, 35 }.Select(Temperature.FromCelsius)])!;
        Assert.Equal((0.5, 0.25), (ahead.BelowShare, ahead.AboveShare));
        Assert.Null(SpotAhead.Of(Some.Crop("tomato"), []));
    }

    [Theory]
    [InlineData(false, "Move it to a bright place today, and grow it on cooler.")]
    [InlineData(true, "It is in the light now: grow it on cooler.")]
    public void What_is_in_the_light_is_not_sent_there_again(bool isInLight, string advice)
    {
        var up = BatchDiagnosis.Of(Silent with { Count = new(9, 16), WarmDarkHours = 30, IsInLight = isInLight });

        Assert.Equal(advice, up.Advice);
        Assert.Equal(!isInLight, up.Sentence.Contains("has since", StringComparison.Ordinal));
    }
}
