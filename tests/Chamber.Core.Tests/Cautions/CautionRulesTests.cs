using Chamber.Core.Batches;
using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;

namespace Chamber.Core.Tests.Cautions;

public sealed class CautionRulesTests
{
    public static TheoryData<SpotKind> Kinds => [.. Enum.GetValues<SpotKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_of_spot_has_its_own_caution_shown_whole_at_set_up(SpotKind kind)
    {
        var shown = CautionRules.SettingUp(kind, LightLevel.Dim);
        Assert.Equal(new(CautionRules.Of(kind)[0], InFull: true), shown[0]);
        Assert.Equal(new(CautionRules.Of(kind)[0], InFull: false), CautionRules.Repeated(kind));
        Assert.Contains(ShownCaution.Whole(CautionRules.Of(kind)[0]), Sowing(Some.Crop("radish"), kind: kind));
        Assert.All(shown.Where(one => one.InFull),
            one => Assert.True(one.Caution.Moments.HasFlag(CautionMoments.SettingUp), one.Caution.Name));
    }

    [Fact]
    public void No_two_kinds_of_heat_share_their_first_caution()
    {
        var own = Enum.GetValues<SpotKind>().Select(kind => CautionRules.Of(kind)[0]).ToList();
        Assert.Equal(own.Count, own.Distinct().Count());
    }

    [Theory]
    [InlineData(SpotKind.HeatMat)]
    [InlineData(SpotKind.ApplianceTop)]
    [InlineData(SpotKind.Electronics)]
    [InlineData(SpotKind.AquariumSide)]
    [InlineData(SpotKind.BoilerCupboard)]
    [InlineData(SpotKind.Cupboard)]
    [InlineData(SpotKind.Shelf)]
    public void Residual_current_protection_is_named_wherever_water_is_near_mains(SpotKind kind) =>
        Assert.Contains(CautionRules.SettingUp(kind, LightLevel.Dim),
            shown => shown.InFull && shown.Caution.Full.Contains("residual-current", StringComparison.Ordinal));

    [Fact]
    public void A_bright_spot_that_is_no_sill_has_a_lamp()
    {
        Assert.Contains(ShownCaution.Whole(CautionBook.Lamps), CautionRules.SettingUp(SpotKind.HeatMat, LightLevel.Bright));
        Assert.DoesNotContain(ShownCaution.Whole(CautionBook.Lamps), CautionRules.SettingUp(SpotKind.HeatMat, LightLevel.Dark));
        Assert.DoesNotContain(ShownCaution.Whole(CautionBook.Lamps), CautionRules.SettingUp(SpotKind.Sill, LightLevel.Bright));
        Assert.Single(CautionRules.SettingUp(SpotKind.Shelf, LightLevel.Bright), shown => shown.Caution == CautionBook.Lamps);
    }

    [Fact]
    public void A_treated_lot_is_told_first_at_sowing_and_when_it_is_written_down()
    {
        Assert.Equal(ShownCaution.Whole(CautionBook.TreatedSeed), Sowing(Some.Crop("pea"), treated: true)[0]);
        Assert.Contains(ShownCaution.Whole(CautionBook.TreatedSeed),
            CautionRules.Of(Some.Lot() with { Treated = true }, Some.Crop("tomato")));
        Assert.DoesNotContain(CautionRules.Of(Some.Lot(), Some.Crop("tomato")), shown => shown.Caution == CautionBook.TreatedSeed);
        Assert.DoesNotContain(Sowing(Some.Crop("pea")), shown => shown.Caution == CautionBook.TreatedSeed);
    }

    [Fact]
    public void Saved_and_frozen_seed_carries_its_cautions()
    {
        var shown = CautionRules.Of(Some.Lot() with { Origin = SeedOrigin.Saved, Storage = SeedStorage.FreezerSealed }, null);
        Assert.Equal([CautionBook.DryingSeed, CautionBook.FreezingSeed], shown.Select(one => one.Caution));
        Assert.Empty(CautionRules.Of(Some.Lot(), null));
    }

    [Fact]
    public void A_blade_is_cautioned_for_hard_seed_and_never_offered_for_a_treated_lot()
    {
        Assert.Contains(ShownCaution.Whole(CautionBook.HardSeed), Sowing(Some.Crop("sweet pea")));
        Assert.DoesNotContain(Sowing(Some.Crop("sweet pea"), treated: true), shown => shown.Caution == CautionBook.HardSeed);
        Assert.DoesNotContain(Sowing(Some.Crop("radish")), shown => shown.Caution == CautionBook.HardSeed);
    }

    [Fact]
    public void Mix_has_dust_and_a_towel_or_a_test_is_no_food()
    {
        Assert.Contains(ShownCaution.Line(CautionBook.DustyMix), Sowing(Some.Crop("radish")));
        Assert.Contains(ShownCaution.Line(CautionBook.PlantingSeed), Sowing(Some.Crop("radish"), SowingMethod.DampTowel));
        Assert.Contains(ShownCaution.Line(CautionBook.PlantingSeed),
            CautionRules.Sowing(new(Some.Crop("radish"), SowingMethod.CoveredMix, true, null) { IsTest = true }));
        Assert.Contains(ShownCaution.Line(CautionBook.ChildrenAndPets), Sowing(Some.Crop("radish")));
        Assert.Contains(ShownCaution.Line(CautionBook.NotCovered),
            CautionRules.Sowing(new(Some.Crop("radish"), SowingMethod.OpenMix, false, null) { Treatment = "peroxide" }));
    }

    [Fact]
    public void Mould_is_known_by_a_note_or_a_loss()
    {
        Assert.True(CautionRules.SpeaksOfMould("one Mouldy"));
        Assert.True(CautionRules.SpeaksOfMould("mold on two"));
        Assert.False(CautionRules.SpeaksOfMould("dry"));
        Assert.False(CautionRules.SpeaksOfMould(null));
        var batch = Some.Batch(looks: [(3, 2)]);
        Assert.False(CautionRules.HasMould(batch));
        Assert.True(CautionRules.HasMould(batch with { Looks = [batch.Looks[0] with { Note = "mould" }] }));
        Assert.True(CautionRules.HasMould(batch with { Losses = [new(Some.Day(4), 1, LossCause.Mould)] }));
    }

    /// <summary>A caution that says that it is shown in full at a sowing, or when a lot is recorded, is.</summary>
    [Fact]
    public void Every_caution_is_shown_in_full_at_some_act_that_it_names()
    {
        var whole = Acts().Where(shown => shown.InFull).Select(shown => shown.Caution.Name).ToHashSet();
        var ofAlerts = CautionMoments.Alert | CautionMoments.Mould | CautionMoments.Calibrating;
        var never = CautionBookTests.Everything.Where(
            caution => (caution.Moments & ~ofAlerts) != CautionMoments.None && !whole.Contains(caution.Name));
        Assert.Empty(never.Select(caution => caution.Name));
        var lines = Acts().Where(shown => !shown.InFull).Select(shown => shown.Caution.Name).ToHashSet();
        Assert.Empty(CautionBook.All.Where(caution => caution.Moments == CautionMoments.None && !lines.Contains(caution.Name))
            .Select(caution => caution.Name));
    }

    private static IEnumerable<ShownCaution> Acts()
    {
        var kinds = Enum.GetValues<SpotKind>();
        var own = CropCatalog.Shipped.With([new(new("mine")) { BasedOn = new("radish") }]).Require("mine");
        return kinds.SelectMany(kind => CautionRules.SettingUp(kind, LightLevel.Bright))
            .Concat(CropCatalog.Shipped.Crops.Append(own).SelectMany(
                crop => Sowing(crop).Concat(Sowing(crop, SowingMethod.DampTowel, treated: true)).Concat(CautionRules.Of(Some.Lot(), crop))))
            .Concat(CautionRules.Of(Some.Lot() with { Treated = true, Origin = SeedOrigin.Saved, Storage = SeedStorage.FreezerSealed },
                null));
    }

    private static IReadOnlyList<ShownCaution> Sowing(Crop crop, SowingMethod method = SowingMethod.CoveredMix, bool treated = false,
        SpotKind kind = SpotKind.Sill) =>
        CautionRules.Sowing(new(crop, method, treated, new(new("place"), kind, LightLevel.Dim, 1)));
}
