using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>Predicted against actual for programs; days since the sowing, errors above 0 when predicted too late.</summary>
internal sealed record HindsightAnswer(IReadOnlyList<HindsightBatch> Batches, IReadOnlyList<ScoreAnswer> Scores)
{
    public static HindsightAnswer Of(IReadOnlyList<BatchHindsight> batches) => new(
        [.. batches.Select(
            batch => new HindsightBatch(batch.Batch.Id, batch.Crop.Id, batch.Batch.SownAt, [.. batch.Compared.Select(ComparedAnswer.Of)]))],
        [.. new[] { Milestone.First, Milestone.Half, Milestone.Most }.Select(
            milestone => ScoreAnswer.Of(milestone, HomeHindsight.Score(batches, milestone))).OfType<ScoreAnswer>()]);
}

internal sealed record HindsightBatch(BatchId Batch, CropId Crop, Instant SownAt, IReadOnlyList<ComparedAnswer> Milestones);

/// <summary>One milestone: predicted, and seen to lie between two looks.</summary>
internal sealed record ComparedAnswer(Milestone Milestone, DaysAnswer Predicted, double AfterDays, double ByDays,
    double ErrorDays, double Held)
{
    public static ComparedAnswer Of(PredictedActual compared) => new(
        compared.Milestone, DaysAnswer.Of(compared.Predicted), compared.After.TotalDays, compared.By.TotalDays, compared.ErrorDays,
            compared.Held);
}

/// <summary>How well one milestone was foretold; the spread is null with a single batch.</summary>
internal sealed record ScoreAnswer(Milestone Milestone, int Batches, double BiasDays, double? SpreadDays, double MedianErrorDays,
    double Held, int HeldBatches)
{
    public static ScoreAnswer? Of(Milestone milestone, PredictionScore? score) =>
        score is null ? null : new(milestone, score.Batches, score.BiasDays, score.SpreadDays, score.MedianErrorDays, score.Held,
            score.HeldBatches);
}
