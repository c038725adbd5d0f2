using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using Chamber.Core.Spots.Placing;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>What can be sown this week from the home's own seed, and where.</summary>
/// <param name="From">The first day of it: today.</param>
/// <param name="To">The last.</param>
/// <param name="LastFrost">What the season is counted from; null where nobody has said it, and then warmth alone decides.</param>
/// <param name="Now">What to sow, the most urgent first.</param>
/// <param name="Later">What comes after this week, soonest first.</param>
public sealed record WeekAnswer(LocalDate From, LocalDate To, LocalDate? LastFrost, IReadOnlyList<WeekSowing> Now,
    IReadOnlyList<WeekLater> Later)
{
    private const int Days = 7;

    /// <summary>The answer on one day.</summary>
    internal static WeekAnswer Of(HomeReader home, Instant now, LocalDate? lastFrost)
    {
        var today = now.InZone(home.Zone).Date;
        var (from, to) = (today, today.PlusDays(Days - 1));

        // Of one crop the lot that is to be used first.
        var lots = home.At(now).Seeds.All().Where(lot => lot.SeedsLeft > 0).DistinctBy(lot => lot.Crop.Id).ToList();
        var windows = lots.ConvertAll(lot => (Lot: lot, Window: WindowOf(home, now, lot.Crop, lastFrost)));
        var open = windows.Where(one => one.Window is { } window && window.From <= to).OrderBy(one => one.Window!.Value.To)
            .ThenBy(one => one.Lot.Lot.Id.Text, StringComparer.Ordinal).Take(PlacementSolver.ItemsMax).ToList();
        var placed = Places(home, now, open.Where(one => !one.Window!.Value.Outside).Select(one => one.Lot.Crop));
        return new(from, to, lastFrost,
            [.. open.Select(one => Sowing(home, one.Lot, one.Window!.Value, lastFrost, placed))],
            [.. windows.Where(one => one.Window is { } window && window.From > to).OrderBy(one => one.Window!.Value.From)
                .Select(one => new WeekLater(one.Lot.Lot.Id, one.Lot.Crop.Id, one.Lot.Crop.CommonName, one.Window!.Value.From,
                    one.Window.Value.Outside))]);
    }

    private static WeekSowing Sowing(HomeReader home, LotState lot, SowingWindow window, LocalDate? lastFrost,
        Dictionary<string, PlacedItem> placed)
    {
        var place = placed.GetValueOrDefault(lot.Crop.CommonName);
        var spot = place?.Cost?.Spot;
        var why = window.Outside ? "sown where it will grow" : place is null ? "no spot is set up yet" : HomePlacing.Why(place);
        var kind = home.Spots().FirstOrDefault(known => known.Id == spot)?.Kind;
        return new(lot.Lot.Id, lot.Crop.Id, lot.Crop.CommonName, lot.SeedsLeft, lastFrost is null ? null : window.To, window.Outside, spot,
            why, lot.Advice, kind is { } known ? CautionText.Lines([CautionRules.Repeated(known)]) : "");
    }

    // Where the season is not known, everything that is started indoors may be sown, and nothing outside.
    private static SowingWindow? WindowOf(HomeReader home, Instant now, Crop crop, LocalDate? lastFrost)
    {
        if (lastFrost is not { } frost)
        {
            return crop.Guide?.IsSownInPlace == true ? null : new(LocalDate.MinIsoValue, LocalDate.MaxIsoValue, false);
        }

        return SowingWindow.On(home, now, crop, frost, now.InZone(home.Zone).Date);
    }

    private static Dictionary<string, PlacedItem> Places(HomeReader home, Instant now, IEnumerable<Crop> crops)
    {
        var names = crops.Select(crop => crop.Id.Text).ToArray();
        return names.Length == 0 || home.Spots().Count == 0 ? []
            : HomePlacing.Solve(home, now, names, newOnly: true).ToDictionary(one => one.Item.Name);
    }
}

/// <summary>A lot to sow from this week.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="Crop">Its crop.</param>
/// <param name="Name">The crop as people call it.</param>
/// <param name="Left">How many seeds are left.</param>
/// <param name="SowBy">The last day on which that makes sense; null where the season is not known.</param>
/// <param name="Outside">Whether it is sown where it will grow.</param>
/// <param name="Spot">Where to put it; null when it is sown outside, or no spot is free for it.</param>
/// <param name="Why">Why there, or why nowhere.</param>
/// <param name="Advice">What to do with the lot.</param>
/// <param name="CautionLine">The usual caution of the spot; empty without one.</param>
public sealed record WeekSowing(LotId Lot, CropId Crop, string Name, int Left, LocalDate? SowBy, bool Outside, SpotId? Spot, string Why,
    LotAdvice Advice, string CautionLine);

/// <summary>A lot that is to be sown later.</summary>
public sealed record WeekLater(LotId Lot, CropId Crop, string Name, LocalDate From, bool Outside);
