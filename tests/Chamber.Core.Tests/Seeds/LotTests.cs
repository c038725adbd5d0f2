using Chamber.Core.Batches;
using Chamber.Core.Climate;
using Chamber.Core.Seeds;
using Chamber.Core.Statistics;
using NodaTime;

namespace Chamber.Core.Tests.Seeds;

/// <summary>
/// Rules of storage against their sources, named at each; shares that a belief should come to are the program's own, to notice change.
/// </summary>
public class LotTests
{
    private static readonly LocalDate Today = new(2026, 3, 1);

    [Fact]
    public void Seeds_sown_and_tested_since_the_last_count_are_taken_off()
    {
        var lot = Some.Lot(counted: 50);
        var before = Some.Batch(5) with { SownAt = Instant.FromUtc(2025, 5, 1, 0, 0) };
        LotTest own = new(lot.Id, Some.Sowing, null, 10, 0);
        LotTest asBatch = own with { Batch = new("G1") };
        Assert.Equal(28, LotStock.SeedsLeft(lot, [Some.Batch(12), before], [own, asBatch]));
    }

    [Fact]
    public void A_lot_that_ran_out_warns_with_the_fix()
    {
        Assert.Null(LotStock.Warn(Some.Lot(), 12, 12));
        Assert.Equal("By its count lot lot-1 had run out, and 3 are taken from it: correct the number, or count the lot again: chamber lot "
            + "count lot-1 N", LotStock.Warn(Some.Lot(), 0, 3));
        Assert.StartsWith("By its count lot lot-1 had only 1 seed left, and 3 are", LotStock.Warn(Some.Lot(), 1, 3),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Fifty_degrees_and_fifty_percent_is_the_limit_of_good_storage()
    {
        // The rule of 100, as restated by G. Johnson, "Storing Vegetable Seed", Univ. of Delaware Extension, which gives 50 °F and 50 % as
        // its example.
        Assert.True(StorageRule.IsGood(Temperature.FromFahrenheit(50), RelativeHumidity.FromPercent(50)));
        Assert.False(StorageRule.IsGood(Temperature.FromFahrenheit(70), RelativeHumidity.FromPercent(50)));
    }

    [Fact]
    public void A_packing_year_makes_seed_a_year_older_than_a_harvest_year()
    {
        var harvested = SeedAge.Of(Some.Lot(year: 2024), Today)!.Value;
        var packed = SeedAge.Of(Some.Lot(year: 2024) with { YearKind = LotYearKind.PackedFor }, Today)!.Value;
        Assert.Equal(harvested.Years + 1, packed.Years, 1e-9);
        Assert.True(packed.YearsMax > packed.Years);
        Assert.Null(SeedAge.Of(Some.Lot(year: null), Today));
    }

    [Fact]
    public void A_test_of_twenty_outweighs_the_year_on_the_packet()
    {
        var crop = Some.Crop("tomato");
        var fresh = LotBelief.Of(Some.Lot(), crop, [], Today);
        var tested = LotBelief.Of(Some.Lot(), crop, [new(Today, new SeedCount(4, 20), true, "test")], Today);
        Assert.InRange(fresh.Share.Mean, 0.75, 0.99);
        Assert.InRange(tested.Share.Mean, 0.15, 0.4);
        Assert.True(tested.Share.Weight > 2 * fresh.Share.Weight);
    }

    [Fact]
    public void An_unfair_test_says_nothing_of_a_lot_whatever_it_counted()
    {
        var crop = Some.Crop("lettuce");
        var lot = Some.Lot("lettuce");
        var cooked = LotBelief.Of(lot, crop, [new(Today, new SeedCount(1, 20), false, "test")], Today);
        var brave = LotBelief.Of(lot, crop, [new(Today, new SeedCount(20, 20), false, "test")], Today);
        Assert.Single(cooked.LeftOut);
        Assert.Single(brave.LeftOut);
        Assert.Equal(LotBelief.Of(lot, crop, [], Today).Share, cooked.Share);
        Assert.Equal(cooked.Share, brave.Share);

        // Of an old lot that tests have shown to be good, a middling unfair count lies between what age says and what is known.
        var old = Some.Lot("lettuce", 2010);
        LotEvidence[] good = [new(Today, new SeedCount(19, 20), true, "test")];
        Assert.Equal(LotBelief.Of(old, crop, good, Today).Share,
            LotBelief.Of(old, crop, [.. good, new(Today, new SeedCount(8, 20), false, "test")], Today).Share);
    }

    [Fact]
    public void An_old_test_is_carried_forward_with_the_ageing_of_the_seed()
    {
        var crop = Some.Crop("onion");
        var lot = Some.Lot("onion", year: 2023);
        var recent = LotBelief.Of(lot, crop, [new(Today, new SeedCount(18, 20), true, "now")], Today);
        var old = LotBelief.Of(lot, crop, [new(Today.PlusYears(-2), new SeedCount(18, 20), true, "then")], Today);
        Assert.True(old.Share.Mean < recent.Share.Mean - 0.1);
    }

    [Fact]
    public void Short_lived_seed_is_used_before_long_lived_seed()
    {
        var onion = LotBelief.Of(Some.Lot("onion"), Some.Crop("onion"), [], Today);
        var tomato = LotBelief.Of(Some.Lot("tomato"), Some.Crop("tomato"), [], Today);
        Assert.True(UseFirst.Rank(onion, 10) < UseFirst.Rank(tomato, 10));
        Assert.Equal(LotAdvice.Keep, UseFirst.Advise(tomato, 10));
        Assert.Equal(LotAdvice.Empty, UseFirst.Advise(tomato, 0));
        Assert.Equal(LotAdvice.TestFirst, UseFirst.Advise(LotBelief.Of(Some.Lot("onion", 2020), Some.Crop("onion"), [], Today), 10));
    }

    [Fact]
    public void A_tested_lot_under_half_is_replaced()
    {
        var belief = LotBelief.Of(Some.Lot(), Some.Crop("tomato"), [new(Today, new SeedCount(3, 20), true, "test")], Today);
        Assert.Equal(LotAdvice.Replace, UseFirst.Advise(belief, 30));
        Assert.True(belief.ChanceOfMeeting(0.75) < 0.01);
    }

    [Fact]
    public void Cooler_keeping_never_shortens_life()
    {
        var places = Enum.GetValues<SeedStorage>().Select(place => (place, place.LifeFactor())).ToDictionary();
        Assert.True(places[SeedStorage.RefrigeratorJar] > places[SeedStorage.CoolRoom]);
        Assert.True(places[SeedStorage.CoolRoom] > places[SeedStorage.Room]);
        Assert.True(places[SeedStorage.Room] > places[SeedStorage.Damp]);
    }

    // Beside so many seeds what is known of age and kind counts for little: the share counted, and when two counts of the same seed
    // contradict each other, what both come to.
    [Theory]
    [InlineData(600, 1200, 0, 0, 0.5)]
    [InlineData(5000, 10_000, 0, 0, 0.5)]
    [InlineData(16, 10_000, 9999, 10_000, 0.50075)]
    public void A_count_of_thousands_and_one_that_contradicts_it_are_learned(int up, int seeds, int upThen, int seedsThen, double share)
    {
        LotEvidence[] evidence = [new(Today, new SeedCount(up, seeds), true, "test"),
            .. seedsThen > 0 ? new[] { new LotEvidence(Today, new SeedCount(upThen, seedsThen), true, "test") } : []];
        Assert.Equal(share, LotBelief.Of(Some.Lot("onion"), Some.Crop("onion"), evidence, Today).Share.Mean, 0.02);
    }

    [Fact]
    public void Saved_and_badly_kept_seed_carries_its_remarks()
    {
        var remarks = LotRemarks.For(Some.Lot() with { Origin = SeedOrigin.Saved, Storage = SeedStorage.Damp }, Some.Crop("tomato"))
            .ToList();
        Assert.Equal(2, remarks.Count);
        Assert.Contains("does not come true", remarks[0], StringComparison.Ordinal);
        Assert.Contains("cool, dry place", remarks[1], StringComparison.Ordinal);
        Assert.Empty(LotRemarks.For(Some.Lot(), Some.Crop("tomato")));
    }
}
