using Chamber.Core.Cautions;
using Chamber.Core.Crops;

namespace Chamber.Core.Tests.Crops;

public sealed class CropHazardTests
{
    [Fact]
    public void Each_hazard_belongs_to_a_crop_and_names_its_source()
    {
        var rows = HazardReader.Read();
        Assert.All(rows, row => Assert.NotNull(CropCatalog.Shipped.Find(new CropId(row.Key))));
        Assert.All(rows.SelectMany(row => row), hazard =>
        {
            Assert.True(hazard.Source.Length > 10, hazard.Words);
            Assert.DoesNotContain('.', hazard.Words);
            Assert.InRange(hazard.Words.Length, 10, 90);
        });
    }

    // US Food and Drug Administration, Bad Bug Book: raw kidney beans. Canadian Poisonous Plants Information System: sweet pea.
    // Univ. of California Cooperative Extension, San Luis Obispo: tomato leaves, asparagus berries. Ask Extension 585645: lima bean.
    // Atlanta Botanical Garden: Catharanthus. Nicotine in Nicotiana alata: after "Poisonous Plants of North Carolina".
    [Theory]
    [InlineData("snap bean", "raw seed")]
    [InlineData("runner bean", "raw seed")]
    [InlineData("lima bean", "raw seed")]
    [InlineData("sweet pea", "seed")]
    [InlineData("tomato", "leaves")]
    [InlineData("asparagus", "berries")]
    [InlineData("vinca", "whole plant")]
    [InlineData("nicotiana", "whole plant")]
    public void What_is_poisonous_to_people_is_told_whole_at_sowing(string name, string part)
    {
        var crop = Some.Crop(name);
        var shown = CautionRules.Sowing(new(crop, SowingMethod.CoveredMix, false, null)).Where(one => one.InFull).ToList();
        Assert.Contains(shown, one => one.Caution.Name == $"crop-{crop.Id}" && one.Caution.Full.Contains(part, StringComparison.Ordinal)
            && one.Caution.Full.Contains("poison information line", StringComparison.Ordinal));
    }

    // VetVine, article 178: alliums are food for people and poison for dogs and cats.
    [Fact]
    public void What_is_poisonous_to_pets_alone_is_a_line()
    {
        var shown = CautionRules.Sowing(new(Some.Crop("onion"), SowingMethod.CoveredMix, false, null));
        Assert.Contains(shown, one => one is { InFull: false, Caution.Name: "crop-onion" }
            && one.Text.Contains("dogs and cats", StringComparison.Ordinal));
    }

    [Fact]
    public void A_harmless_crop_has_none() => Assert.Empty(PoisonCaution.Of(Some.Crop("radish")));

    [Fact]
    public void A_crop_of_ones_own_asks_until_somebody_answers()
    {
        Assert.Equal([CautionBook.PoisonUnknown], PoisonCaution.Of(Own(null)));
        Assert.Empty(PoisonCaution.Of(Own("no")));
        var told = Assert.Single(PoisonCaution.Of(Own("the seed is poisonous.")));
        Assert.Equal("Mine: the seed is poisonous.", told.Line);
        Assert.Equal("The user's own word.", told.Source);
    }

    [Fact]
    public void A_new_crop_keeps_what_it_took_over_until_somebody_answers()
    {
        Assert.Equal(["crop-mine", "poison-unknown"], PoisonCaution.Of(Own(null, "sweet-pea")).Select(caution => caution.Name));
        Assert.Empty(PoisonCaution.Of(Own("no", "sweet-pea")));
    }

    [Fact]
    public void No_answer_takes_away_what_has_a_source()
    {
        var crop = CropCatalog.Shipped.With([new(new("sweet-pea")) { Poisonous = "no" }]).Require("sweet-pea");
        Assert.Equal(Some.Crop("sweet-pea").Hazards, crop.Hazards);
        Assert.False(crop.HazardUnknown);
        Assert.False(CropCatalog.Shipped.With([new(new("tomato")) { Source = "mine" }]).Require("tomato").HazardUnknown);
    }

    [Fact]
    public void An_answer_without_end_is_refused()
    {
        var problem = Assert.Throws<FormatException>(() => Own(new string('x', CropHazard.WordsMax + 1)));
        Assert.Equal("The crop mine: poisonous has 201 letters; 200 are enough to say which part.", problem.Message);
    }

    private static Crop Own(string? answer, string like = "radish") =>
        CropCatalog.Shipped.With([new(new("mine")) { BasedOn = new(like), Poisonous = answer }]).Require("mine");
}
