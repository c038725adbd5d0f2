using System.Globalization;
using Chamber.Core.Forecasts;

namespace Chamber.Service.Home.Answers;

/// <summary>Hindsight in words, the same on the command line and the page.</summary>
internal static class HindsightWords
{
    public static string Headline(IReadOnlyList<BatchHindsight> batches)
    {
        if (HomeHindsight.Score(batches, Milestone.Half) is not { } half)
        {
            return "No batch has come up and ended yet, so no forecast can be judged.";
        }

        var bias = Math.Abs(half.BiasDays) < 0.05 ? "on average to the day"
            : string.Create(CultureInfo.InvariantCulture,
            $"on average {Math.Abs(half.BiasDays):0.0} days too {(half.BiasDays > 0 ? "late" : "soon")}");
        var count = half.Batches == 1 ? "1 batch" : $"{half.Batches} batches";
        var few = half.Batches < PredictionScore.BatchesToJudge ? " Too few to judge by." : string.Empty;
        return $"Half up, over {count}: forecast {bias}; {Held(half.HeldBatches, half.Batches)}.{few}";
    }

    public static string[] Row(BatchHindsight batch, string sown)
    {
        var half = batch.Compared.FirstOrDefault(each => each.Milestone == Milestone.Half);
        return
        [
            batch.Batch.Id.Text,
            batch.Crop.CommonName,
            sown,
            batch.AtSowing.Half is { Low: { } low, Mid: { } mid, High: { } high }
                ? RangeText.Days(low.TotalDays, mid.TotalDays, high.TotalDays) : "cannot say",
            half is null ? batch.Batch.IsPastWaiting ? "not known" : "still coming up"
                : $"{RangeText.Day(half.After.TotalDays)} to {RangeText.Day(half.By.TotalDays)} days",
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
