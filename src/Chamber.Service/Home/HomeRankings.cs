using Chamber.Core.Crops;
using Chamber.Core.Forecasts.BeforeSowing;
using Chamber.Core.Spots;

namespace Chamber.Service.Home;

/// <summary>Spots ranked for a crop and crops for a spot, whose days are those of this home's forecasts: one question has one
/// answer.</summary>
internal static class HomeRankings
{
    // As many as a forecast is asked for by default; the days to half hardly depend on it.
    private const int SeedsOfForecast = 12;

    /// <summary>Every spot for a crop, best first.</summary>
    public static IReadOnlyList<RankedSpot> ForCrop(HomeReader home, Crop crop, IEnumerable<SurveyedSpot> spots) =>
        [.. SpotRanking.ForCrop(crop, spots, HomeReader.FixedRandom()).Select(ranked => Forecast(home, ranked))];

    /// <summary>The best spot for a crop.</summary>
    public static RankedSpot Best(HomeReader home, Crop crop, IEnumerable<SurveyedSpot> spots) =>
        Forecast(home, SpotRanking.ForCrop(crop, spots, HomeReader.FixedRandom())[0]);

    /// <summary>Every crop for a spot, best first.</summary>
    /// <param name="home">This home.</param>
    /// <param name="spot">The spot.</param>
    /// <param name="sownInPlace">Whether to rank also crops that are sown where they are to grow.</param>
    /// <param name="shown">How many are going to be shown; the days of further ones are those of the tables.</param>
    public static IReadOnlyList<RankedSpot> ForSpot(HomeReader home, SurveyedSpot spot, bool sownInPlace = false,
        int shown = int.MaxValue) =>
        [.. SpotRanking.ForSpot(spot, home.Catalog.Crops, HomeReader.FixedRandom(), sownInPlace)
            .Select((ranked, i) => i < shown ? Forecast(home, ranked) : ranked)];

    /// <summary>Days until half are up on a spot, by what this home's batches have taught; null where none is likely.</summary>
    /// <param name="forecasts">The forecasts of a moment.</param>
    /// <param name="crop">The crop.</param>
    /// <param name="spot">The spot.</param>
    /// <param name="ofTables">The days of the tables there.</param>
    public static double? DaysToHalf(HomeForecasts forecasts, Crop crop, SpotId spot, double? ofTables)
    {
        var question = new CropQuestion(crop, SeedsOfForecast);
        return forecasts.OnSpot(question, spot) is { } forecast ? forecast.NoneLikely ? null : forecast.Half.Mid?.TotalDays
            : ofTables * forecasts.Here(question).Pace;
    }

    private static RankedSpot Forecast(HomeReader home, RankedSpot ranked)
    {
        var forecasts = home.AtNow.Forecasts;
        var pace = forecasts.Here(new(ranked.Crop, SeedsOfForecast)).Pace;
        return ranked with
        {
            DaysToHalf = DaysToHalf(forecasts, ranked.Crop, ranked.Spot.Id, ranked.DaysToHalf),
            FastestDays = ranked.FastestDays * pace,
        };
    }
}
