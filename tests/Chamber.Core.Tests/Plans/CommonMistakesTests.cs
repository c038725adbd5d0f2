using Chamber.Core.Crops;
using Chamber.Core.Plans;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Tests.Plans;

/// <summary>Mistakes of the trade: common practice, no source.</summary>
public class CommonMistakesTests
{
    private static readonly Spot Cupboard = new(new("cupboard"), SpotKind.BoilerCupboard, LightLevel.Dark, 4);

    [Fact]
    public void A_plan_without_mistakes_gets_no_warning() => Assert.Empty(CommonMistakes.Of(Intent("tomato")));

    [Fact]
    public void Sowing_weeks_too_early_is_told_with_the_day_to_start()
    {
        var dates = SowingDates.For(Some.Crop("tomato").Guide!, new(new LocalDate(2027, 5, 10)), new(5, 6, 8));
        Assert.Equal(MistakeKind.TooEarly,
            Assert.Single(CommonMistakes.Of(Intent("tomato") with { Dates = dates, On = new(2027, 2, 1) })).Kind);
        Assert.Equal(MistakeKind.TooLate,
            Assert.Single(CommonMistakes.Of(Intent("tomato") with { Dates = dates, On = new(2027, 6, 1) })).Kind);
    }

    [Fact]
    public void Light_needing_seed_does_not_go_into_a_dark_cupboard() =>
        Assert.Contains(CommonMistakes.Of(Intent("celery")), mistake => mistake.Kind == MistakeKind.LightSeedInTheDark);

    [Fact]
    public void Two_lots_in_one_tray_cannot_be_told_apart_afterwards() =>
        Assert.Contains(
            CommonMistakes.Of(Intent("tomato") with { Lots = [Some.Lot(), Some.Lot() with { Id = new LotId("lot-2") }] }),
            mistake => mistake.Kind == MistakeKind.TwoLotsInOneTray
                && mistake.Words.StartsWith("lot-1 and lot-2", StringComparison.Ordinal));

    [Fact]
    public void Spinach_beside_pepper_is_a_mistake_whichever_is_named_first()
    {
        Assert.Contains(CommonMistakes.Of(Intent("tomato", "pepper-sweet", "spinach")),
            mistake => mistake.Kind == MistakeKind.ColdShyTogetherWithHeatShy);
        Assert.Contains(CommonMistakes.Of(Intent("spinach", "pepper-sweet")),
            mistake => mistake.Kind == MistakeKind.ColdShyTogetherWithHeatShy);
    }

    [Fact]
    public void Treated_seed_stays_off_the_towel() =>
        Assert.Contains(
            CommonMistakes.Of(Intent("tomato") with { Method = SowingMethod.DampTowel, Lots = [Some.Lot() with { Treated = true }] }),
            mistake => mistake.Kind == MistakeKind.TreatedOnTowel);

    private static Intent Intent(string crop, params string[] beside) =>
        new(Some.Crop(crop), SowingMethod.CoveredMix, new(2027, 4, 10), null, Cupboard, [Some.Lot(crop)], [.. beside.Select(Some.Crop)]);
}
