using Chamber.Core.Batches;
using Chamber.Core.Diagnosis;
using Chamber.Service.Home.Answers;

namespace Chamber.Service.Reviews;

/// <summary>A review for programs.</summary>
internal sealed record ReviewAnswer(
    BatchId Batch,
    Blame Blame,
    string Verdict,
    string NextTime,
    CauseKind Cause,
    double Lost,
    IReadOnlyList<LossPartAnswer> Losses,
    int Up,
    int Seeds,
    double Expected,
    double? FirstAfterDays,
    double? FirstByDays,
    double? ForecastLow,
    double? ForecastHigh,
    double HoursBelow,
    double HoursAbove,
    double UnknownHours,
    double WarmDarkHours,
    IReadOnlyList<string> Files)
{
    public static ReviewAnswer Of(BatchReview review, IReadOnlyList<string> files) => new(
        review.Batch.Id,
        review.Diagnosis.Blame,
        review.Diagnosis.Sentence,
        review.Diagnosis.NextTime,
        review.Diagnosis.Cause.Kind,
        review.Diagnosis.Loss.Seeds,
        DiagnosisAnswer.Of(review.Diagnosis)!.Losses,
        review.Case.Count.Up,
        review.Case.Count.Seeds,
        review.Case.Expected,
        review.Case.SeenDays.After,
        review.Case.SeenDays.By,
        review.Case.ForecastDays?.Low,
        review.Case.ForecastDays?.High,
        review.Case.Hours.HoursBelow,
        review.Case.Hours.HoursAbove,
        review.Case.Hours.UnknownHours,
        review.Case.WarmDarkHours,
        files);
}
