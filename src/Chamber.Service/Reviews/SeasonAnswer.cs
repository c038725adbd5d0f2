using Chamber.Core.Batches;
using Chamber.Core.Reviews;
using Chamber.Service.Plots;

namespace Chamber.Service.Reviews;

/// <summary>A season for programs.</summary>
internal sealed record SeasonAnswer(
    int Year,
    int Batches,
    IReadOnlyList<BatchId> StillComing,
    IReadOnlyList<SeasonLine> Spots,
    IReadOnlyList<SeasonLine> Lots,
    IReadOnlyList<SeasonLine> Methods,
    int PlantedOut,
    decimal Cost,
    CostParts CostParts,
    decimal? CostEach,
    decimal? Saved,
    IReadOnlyList<string> NextYear,
    IReadOnlyList<HitAnswer> Forecasts)
{
    public static SeasonAnswer Of(int year, int batches, SeasonReview review, IEnumerable<Hit> hits) => new(
        year,
        batches,
        review.StillComing,
        review.Spots,
        review.Lots,
        review.Methods,
        review.PlantedOut,
        review.Cost.Total,
        new(review.Cost.Seed, review.Cost.Mix, review.Cost.Heat, review.Cost.Containers),
        review.Cost.EachPlant,
        review.Saved,
        review.NextYear,
        [.. hits.Select(hit => new HitAnswer(hit.Batch, hit.Predicted, hit.Low, hit.High, hit.After, hit.By, hit.Error, hit.Held))]);
}

/// <summary>What a season's money went on.</summary>
internal sealed record CostParts(decimal Seed, decimal Mix, decimal Heat, decimal Other);

/// <summary>A forecast against what was seen, days since the sowing.</summary>
internal sealed record HitAnswer(BatchId Batch, double Predicted, double Low, double High, double SeenAfter, double SeenBy,
    double Error, bool Held);
