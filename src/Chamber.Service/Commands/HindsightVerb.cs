using System.Globalization;
using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts;
using Chamber.Service.Home;
using NodaTime;

namespace Chamber.Service.Commands;

/// <summary>Predicted against actual over all batches.</summary>
internal static class HindsightVerb
{
    public static Verb Create() =>
        new Verb("hindsight", "How well forecasts did: what was predicted at sowing against what was seen, for every batch.", "chamber hindsight", "chamber hindsight --json")
            .Does(invocation =>
            {
                var batches = new HomeHindsight(invocation.Home, invocation.Now).All();
                var answer = HindsightAnswer.Of(batches);
                invocation.Answer(answer, screen =>
                {
                    screen.Headline(HindsightWords.Headline(batches));
                    if (batches.Count == 0)
                    {
                        return;
                    }

                    screen.Say();
                    screen.Table(["Batch", "Crop", "Sown", "Half up, predicted", "seen", ">Off by"], batches.Select(batch => HindsightWords.Row(batch, invocation)));
                    screen.Say();
                    screen.Table(["", ">Batches", ">Bias", ">Spread", ">Median error", ">80 % intervals held"], answer.Scores.Select(HindsightWords.Row));
                    screen.Aside("Each forecast knows only what was known at its sowing. Off by 0 means that the predicted day lies between the look without and the look with. Bias above 0: predicted too late. An 80 % interval held when at least half of the time between those looks lies inside it.");
                });
            });
}

/// <summary>Hindsight in words, the same on the command line and the page.</summary>
internal static class HindsightWords
{
    public static string Headline(IReadOnlyList<BatchHindsight> batches)
    {
        if (HomeHindsight.Score(batches, Milestone.Half) is not { } half)
        {
            return "No batch has come up and ended yet, so no forecast can be judged.";
        }

        var bias = Math.Abs(half.BiasDays) < 0.05 ? "on average to the day" : string.Create(CultureInfo.InvariantCulture, $"on average {Math.Abs(half.BiasDays):0.0} days too {(half.BiasDays > 0 ? "late" : "soon")}");
        var count = half.Batches == 1 ? "1 batch" : $"{half.Batches} batches";
        var few = half.Batches < PredictionScore.BatchesToJudge ? " Too few to judge by." : string.Empty;
        return $"Half up, over {count}: forecast {bias}; {Held(half.HeldBatches, half.Batches)}.{few}";
    }

    public static string[] Row(BatchHindsight batch, Invocation invocation) =>
        Row(batch, BatchWords.Day(invocation, batch.Batch.SownAt));

    public static string[] Row(BatchHindsight batch, string sown)
    {
        var half = batch.Compared.FirstOrDefault(each => each.Milestone == Milestone.Half);
        return
        [
            batch.Batch.Id.Text,
            batch.Crop.CommonName,
            sown,
            batch.AtSowing.Half is { Low: { } low, Mid: { } mid, High: { } high } ? RangeText.Days(low.TotalDays, mid.TotalDays, high.TotalDays) : "cannot say",
            half is null ? batch.Batch.EndedAt is null ? "still coming up" : "not known" : $"{RangeText.Day(half.After.TotalDays)} to {RangeText.Day(half.By.TotalDays)} days",
            half is null ? "-" : Signed(half.ErrorDays),
        ];
    }

    public static string[] Row(ScoreAnswer score) =>
    [
        score.Milestone switch { Milestone.First => "First up", Milestone.Half => "Half up", _ => "Nine in ten up" },
        score.Batches.ToString(CultureInfo.InvariantCulture),
        Signed(score.BiasDays) + " days",
        score.SpreadDays is { } spread ? spread.ToString("0.0", CultureInfo.InvariantCulture) + " days" : "-",
        score.MedianErrorDays.ToString("0.0", CultureInfo.InvariantCulture) + " days",
        string.Create(CultureInfo.InvariantCulture, $"{score.HeldBatches} of {score.Batches}"),
    ];

    private static string Held(int held, int batches) =>
        string.Create(CultureInfo.InvariantCulture, $"{held} of {batches} {(batches == 1 ? "interval" : "intervals")} held");

    private static string Signed(double days) => days.ToString("+0.0;-0.0;0", CultureInfo.InvariantCulture);
}

/// <summary>Predicted against actual for programs; days since the sowing, errors above 0 when predicted too late.</summary>
internal sealed record HindsightAnswer(IReadOnlyList<HindsightBatch> Batches, IReadOnlyList<ScoreAnswer> Scores)
{
    public static HindsightAnswer Of(IReadOnlyList<BatchHindsight> batches) => new(
        [.. batches.Select(batch => new HindsightBatch(batch.Batch.Id, batch.Crop.Id, batch.Batch.SownAt, [.. batch.Compared.Select(ComparedAnswer.Of)]))],
        [.. new[] { Milestone.First, Milestone.Half, Milestone.Most }.Select(milestone => ScoreAnswer.Of(milestone, HomeHindsight.Score(batches, milestone))).OfType<ScoreAnswer>()]);
}

internal sealed record HindsightBatch(BatchId Batch, CropId Crop, Instant SownAt, IReadOnlyList<ComparedAnswer> Milestones);

/// <summary>One milestone: predicted, and seen to lie between two looks.</summary>
internal sealed record ComparedAnswer(Milestone Milestone, DaysAnswer Predicted, double AfterDays, double ByDays, double ErrorDays, double Held)
{
    public static ComparedAnswer Of(PredictedActual compared) => new(
        compared.Milestone, DaysAnswer.Of(compared.Predicted), compared.After.TotalDays, compared.By.TotalDays, compared.ErrorDays, compared.Held);
}

/// <summary>How well one milestone was foretold; the spread is null with a single batch.</summary>
internal sealed record ScoreAnswer(Milestone Milestone, int Batches, double BiasDays, double? SpreadDays, double MedianErrorDays, double Held, int HeldBatches)
{
    public static ScoreAnswer? Of(Milestone milestone, PredictionScore? score) =>
        score is null ? null : new(milestone, score.Batches, score.BiasDays, score.SpreadDays, score.MedianErrorDays, score.Held, score.HeldBatches);
}
