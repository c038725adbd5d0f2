using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Spots;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// What is odd about something that is written down, or is about to be, and may be meant all the same: a sentence each with what to do,
/// and nothing is refused. Page, command line, API and import say the same.
/// </summary>
internal static class HomeWarnings
{
    // Whoever writes down a sowing of an earlier year can no longer choose its season.
    private static readonly Duration SeasonAgeMax = Duration.FromDays(365);

    /// <summary>Of a sowing.</summary>
    /// <param name="home">The home.</param>
    /// <param name="batch">What is sown; it may be written down already.</param>
    /// <param name="others">All batches that are known; those of the home where they are not given.</param>
    public static IReadOnlyList<string> OfSowing(HomeReader home, Batch batch, IEnumerable<Batch>? others = null)
    {
        var crop = home.Catalog.Find(batch.Crop);
        var spot = batch.Stays is [.., { When.HasEnd: false } stay] ? home.Spots().FirstOrDefault(known => known.Id == stay.Spot) : null;
        var beside = (others ?? home.Ledger.Batches).Where(other => other.Id != batch.Id).ToList();
        return
        [
            .. OfLot(home, batch, beside),
            .. OfDay(home, batch, crop),
            .. crop is not null && spot is not null ? OfLight(crop, spot) : [],
            .. spot is not null && batch.EndedAt is null ? OfRoom(spot, [.. beside, batch]) : [],
        ];
    }

    /// <summary>Of a spot that was changed, or that something was moved to.</summary>
    public static IReadOnlyList<string> OfSpot(HomeReader home, SpotId spot) =>
        home.Spots().FirstOrDefault(known => known.Id == spot) is { } known ? [.. OfRoom(known, home.Ledger.Batches)] : [];

    /// <summary>Of a crop for which a warm spot is asked for.</summary>
    public static IReadOnlyList<string> OfCrop(Crop crop) => crop.Guide is { IsSownInPlace: true }
        ? [$"{PlainText.Capital(crop.CommonName)} is sown where it will grow; indoors only for a test, or in a pot it stays in."] : [];

    /// <summary>Of prices that are set for spots: a name that no spot has is counted nowhere.</summary>
    public static IReadOnlyList<string> OfPrices(IEnumerable<Spot> spots, PriceSettings prices)
    {
        var known = spots.Select(spot => spot.Id.Text).ToList();
        return [.. prices.Watts.Keys.Except(known, StringComparer.Ordinal).Order(StringComparer.Ordinal).Select(name =>
            $"prices.watts names {name}, which is no spot, so its electricity is not counted.{Core.NearNames.Question(name, known)}")];
    }

    // What was sown before the lot was counted is not in its count.
    private static IEnumerable<string> OfLot(HomeReader home, Batch batch, IEnumerable<Batch> others)
    {
        if (batch.Lot is { } name && home.Ledger.Lot(name) is { } lot && batch.SownAt >= lot.CountedAt)
        {
            var left = LotStock.SeedsLeft(lot, others, home.Ledger.Tests(name).Where(test => test.Batch != batch.Id));
            if (LotStock.Warn(lot, left, batch.Seeds) is { } warning)
            {
                yield return warning;
            }
        }
    }

    private static IEnumerable<string> OfDay(HomeReader home, Batch batch, Crop? crop)
    {
        var (day, today) = (batch.SownAt.InZone(home.Zone).Date, home.Now.InZone(home.Zone).Date);
        if (Core.Bounds.Age.WhyNot(Duration.Max(Duration.Zero, home.Now - batch.SownAt)) is not null)
        {
            yield return $"{TimeText.ShowDay(day, today)} is more than ten years ago: look at the year.";
        }
        else if (!batch.IsTest && crop is not null && home.Now - batch.SownAt <= SeasonAgeMax
            && PlanSheet.NextLastFrost(home.Ledger, today) is { } frost
            && SowingWindow.On(home, home.Now, crop, frost, day) is { } window && window.From > day)
        {
            yield return $"{PlainText.Capital(crop.CommonName)} is out of season: counted from your last frost "
                + $"({frost.ToString("d MMM", CultureInfo.InvariantCulture)}), the next time to sow it{(window.Outside ? " outside" : "")} is "
                + $"{RangeText.Dates(window.From, window.To, today)}.";
        }
    }

    private static IEnumerable<string> OfLight(Crop crop, Spot spot)
    {
        if ((crop.Light, spot.Light) is (LightNeed.NeedsLight, LightLevel.Dark))
        {
            yield return $"{PlainText.Capital(crop.CommonName)} needs light to come up and {spot.Id} is dark: move it to a bright spot.";
        }
        else if ((crop.Light, spot.Light) is (LightNeed.NeedsDark, LightLevel.Bright))
        {
            yield return $"{PlainText.Capital(crop.CommonName)} wants dark to come up: cover it well.";
        }
    }

    private static IEnumerable<string> OfRoom(Spot spot, IEnumerable<Batch> batches)
    {
        var there = batches
            .Where(batch => batch.EndedAt is null && batch.Stays is [.., { When.HasEnd: false } stay] && stay.Spot == spot.Id)
            .Sum(batch => batch.Containers);
        if (there > spot.Room)
        {
            yield return $"{spot.Id} has room for {spot.Room} and holds {there} now: move one, or say that there is more room: "
                + $"chamber spot add {spot.Id} --room {there}";
        }
    }
}
