using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>A spot with its survey.</summary>
public sealed record SurveyedSpot(Spot Spot, Survey Survey);

/// <summary>One line of a ranking.</summary>
/// <param name="Spot">The spot.</param>
/// <param name="Crop">The crop.</param>
/// <param name="Suitability">How well the spot serves it, and how well we know.</param>
/// <param name="LacksLight">Whether the crop needs light to come up and the spot is dark; the score leaves light out.</param>
public sealed record RankedSpot(Spot Spot, Crop Crop, Suitability Suitability, bool LacksLight)
{
    /// <summary>Days until half are up: by the tables in the usual days of the spot, unless a forecast says better; null where none come
    /// up.</summary>
    public double? DaysToHalf { get; init; } = Suitability.DaysToHalf;

    /// <summary>Days until half are up at the crop's best temperature.</summary>
    public double FastestDays { get; init; } = Crop.Profile.FastestDays;
}

/// <summary>Ranks spots for a crop, and crops for a spot. Best first; those that lack light after the others; equals by name.</summary>
public static class SpotRanking
{
    /// <summary>Every spot for a crop.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="spots">The spots.</param>
    /// <param name="random">Seeded, for the intervals.</param>
    public static IReadOnlyList<RankedSpot> ForCrop(Crop crop, IEnumerable<SurveyedSpot> spots, Random random) =>
        Ranked(spots.Select(spot => (spot, crop)), random);

    /// <summary>Every crop for a spot; those that are sown where they are to grow only when asked for.</summary>
    /// <param name="spot">The spot.</param>
    /// <param name="crops">The crops.</param>
    /// <param name="random">Seeded, for the intervals.</param>
    /// <param name="sownInPlace">Whether to rank also crops that are sown where they are to grow.</param>
    public static IReadOnlyList<RankedSpot> ForSpot(SurveyedSpot spot, IEnumerable<Crop> crops, Random random, bool sownInPlace = false) =>
        Ranked(crops.Where(crop => sownInPlace || crop.Guide?.IsSownInPlace != true).Select(crop => (spot, crop)), random);

    private static IReadOnlyList<RankedSpot> Ranked(IEnumerable<(SurveyedSpot Spot, Crop Crop)> pairs, Random random)
    {
        var score = new SuitabilityScore(random);
        return [.. pairs
            .Select(pair => new RankedSpot(
                pair.Spot.Spot,
                pair.Crop,
                score.Of(pair.Crop, pair.Spot.Survey),
                pair.Crop.Light == LightNeed.NeedsLight && pair.Spot.Spot.Light == LightLevel.Dark))
            .OrderBy(ranked => ranked.LacksLight)
            .ThenByDescending(ranked => ranked.Suitability.Score)
            .ThenBy(ranked => ranked.Spot.Id.Text, StringComparer.Ordinal)
            .ThenBy(ranked => ranked.Crop.Id.Text, StringComparer.Ordinal)];
    }
}
