using System.Text.RegularExpressions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;

namespace Chamber.Core.Tests.Crops;

/// <summary>A treated lot is sown as it is, in mix: nothing that the program says takes water, a blade or bare hands to its seed.</summary>
public sealed partial class TreatedLotTests
{
    [Fact]
    public void Nothing_is_advised_that_takes_hands_or_water_to_treated_seed()
    {
        var advised =
            from crop in CropCatalog.Shipped.Crops
            from method in Enum.GetValues<SowingMethod>()
            from words in SowingAdvice.For(crop, method, isTreated: true)
                .Concat(HomeTest.Plan(crop, TestQuestion.Rate, 100, isTreated: true).Advice)
            where Handling().IsMatch(Negative().Replace(words, ""))
            select $"{crop.Id}, {method}: {words}";
        Assert.Empty(advised.Distinct());
    }

    // The same search finds what is said of other lots, so it can fail.
    [Fact]
    public void Of_other_lots_soaking_nicking_and_towels_are_spoken_of()
    {
        Assert.Matches(Handling(), string.Join(' ', SowingAdvice.For(Some.Crop("sweet pea"), SowingMethod.CoveredMix, isTreated: false)));
        Assert.Matches(Handling(), string.Join(' ', HomeTest.Plan(Some.Crop("tomato"), TestQuestion.Rate, 100).Advice));
    }

    [Theory]
    [InlineData("okra")]
    [InlineData("cilantro")]
    [InlineData("nasturtium")]
    public void That_its_usual_preparation_is_left_out_is_said(string crop) =>
        Assert.Contains("sow it as it is", SowingAdvice.For(Some.Crop(crop), SowingMethod.CoveredMix, isTreated: true).First(),
            StringComparison.Ordinal);

    [Fact]
    public void On_a_towel_it_is_told_to_go_into_mix_with_gloves() =>
        Assert.Contains(SowingAdvice.TreatedOnTowel, SowingAdvice.For(Some.Crop("radish"), SowingMethod.DampTowel, isTreated: true));

    [GeneratedRegex("soak|nick|crush|scarif|\\bfile\\b|towel|warm water")]
    private static partial Regex Handling();

    // What tells people not to, and that a towel suits the crop badly anyway.
    [GeneratedRegex("Treated seed does not go on a towel[^.]*\\.|no towel\\.|A towel suits it badly[^.]*\\.")]
    private static partial Regex Negative();
}
