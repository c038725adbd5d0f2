using Chamber.Core.Crops;
using Chamber.Core.Plans;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>The days on which a crop is sown, counted from the last frost.</summary>
/// <param name="From">The first of them.</param>
/// <param name="To">The last.</param>
/// <param name="Outside">Whether it is sown where it will grow.</param>
internal readonly record struct SowingWindow(LocalDate From, LocalDate To, bool Outside)
{
    private const int SeedsOfForecast = 12;

    /// <summary>The window that holds a day, or the next one after it; null for a crop of which the catalog has no weeks.</summary>
    /// <param name="home">Whose batches have taught how long the crop takes.</param>
    /// <param name="now">What is known by then.</param>
    /// <param name="crop">The crop.</param>
    /// <param name="lastFrost">The last frost of any year.</param>
    /// <param name="day">The day.</param>
    public static SowingWindow? On(HomeReader home, Instant now, Crop crop, LocalDate lastFrost, LocalDate day)
    {
        if (crop.Guide is not { } guide || (guide.IsSownInPlace ? new DaysUp(0, 0, 0) : DaysUpOf(home, now, crop)) is not { } up)
        {
            return null;
        }

        var frost = new AnnualDate(lastFrost.Month, lastFrost.Day);
        return Enumerable.Range(day.Year - 1, 3)
            .Select(year => Of(guide, new LastFrost(frost.InYear(year)), up))
            .FirstOrDefault(window => window is null || window.Value.To >= day);
    }

    private static SowingWindow? Of(CropGuide guide, LastFrost frost, DaysUp up) =>
        SowingDates.For(guide, frost, up) is { } indoors ? new(indoors.StartOn, indoors.SowBy, false)
        : SowingDates.InPlace(guide, frost) is var (from, to) ? new(from, to, true) : null;

    // At its best temperature; null where its numbers say that it never comes up.
    private static DaysUp? DaysUpOf(HomeReader home, Instant now, Crop crop)
    {
        var forecasts = home.At(now).Forecasts;
        var forecast = forecasts.AtSteady(forecasts.Here(new(crop, SeedsOfForecast)), crop.Profile.Cardinals.OptimumLow);
        return forecast is { NoneLikely: false, Half: { Low: { } low, Mid: { } mid, High: { } high } }
            ? new(low.TotalDays, mid.TotalDays, high.TotalDays) : null;
    }
}
