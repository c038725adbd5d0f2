using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Needs;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What seed of this home needs beside warmth and water, and how it stands with that.</summary>
internal static class HomeNeeds
{
    /// <summary>The needs of a batch where it is.</summary>
    public static IReadOnlyList<NeedState> Of(HomeReader home, Batch batch, Instant now)
    {
        if (home.Catalog.Find(batch.Crop) is not { } crop || crop.Needs.Count == 0)
        {
            return [];
        }

        var spot = batch.Stays is [.., var stay] ? stay.Spot : (SpotId?)null;
        return NeedState.Of(crop, Facts(home, spot, batch.Lot, now) with { Chill = home.At(now).Forecasts.ChillOf(batch, crop) });
    }

    /// <summary>The needs of a crop before it is sown on a spot.</summary>
    public static IReadOnlyList<NeedState> Before(HomeReader home, Crop crop, SpotId? spot, LotId? lot, Instant now) =>
        NeedState.Of(crop, Facts(home, spot, lot, now));

    /// <summary>Those that are not met, and a chill of which nothing is known, in words; light has its own warning.</summary>
    public static IEnumerable<string> Open(IEnumerable<NeedState> needs) =>
        needs.Where(state => state.Need.Kind switch
        {
            NeedKind.Light or NeedKind.Darkness => false,
            NeedKind.MoistChill => state.Status != NeedStatus.Met,
            _ => state.Status is NeedStatus.Unmet or NeedStatus.UnderWay,
        }).Select(state => state.Words);

    private static NeedFacts Facts(HomeReader home, SpotId? spot, LotId? lot, Instant now) => new()
    {
        Scale = home.Scale,
        DaySwingKelvins = spot is { } place ? Swing(home, place, now) : null,
        Light = spot is { } id ? home.Spots().FirstOrDefault(one => one.Id == id)?.Light : null,
        DaysSinceHarvest = lot is { } name ? SinceHarvest(home.Ledger.Lot(name), now.InZone(home.Zone).Date.Year, now) : null,
    };

    /// <summary>Whether days on a spot are so much warmer than nights that a crop needs no light there.</summary>
    public static bool NightsReplaceLight(HomeReader home, Crop crop, SpotId spot, Instant now) =>
        NeedState.NightsReplaceLight(crop, Swing(home, spot, now));

    private static double? Swing(HomeReader home, SpotId spot, Instant now) =>
        home.At(now).Forecasts.UsualOf(spot) is { IsComplete: true } usual
            ? usual.Hours.Max(hour => hour!.Value.Mean.Celsius) - usual.Hours.Min(hour => hour!.Value.Mean.Celsius) : null;

    // A lot of this year's harvest was counted when it was put by.
    private static double? SinceHarvest(Lot? lot, int year, Instant now) =>
        lot is { Origin: SeedOrigin.Saved, YearKind: LotYearKind.Harvested } saved && saved.Year == year
            ? (now - saved.CountedAt).TotalDays : null;
}

/// <summary>A need for programs.</summary>
/// <param name="Kind">What the seed needs.</param>
/// <param name="Status">How it stands with that.</param>
/// <param name="Words">The same in a sentence.</param>
internal sealed record NeedAnswer(NeedKind Kind, NeedStatus Status, string Words)
{
    public static NeedAnswer Of(NeedState state) => new(state.Need.Kind, state.Status, state.Words);
}
