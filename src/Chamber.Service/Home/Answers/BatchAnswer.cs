using Chamber.Core.Batches;
using Chamber.Core.Crops;
using Chamber.Core.Seeds;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>A batch for programs.</summary>
internal sealed record BatchAnswer(
    BatchId Batch,
    CropId Crop,
    LotId? Lot,
    SowingMethod Method,
    int Seeds,
    Instant SownAt,
    SpotId? Spot,
    int? Up,
    Instant? LookedAt,
    Instant? EndedAt,
    ForecastTimes? Forecast,
    DiagnosisAnswer? Diagnosis)
{
    public static BatchAnswer Of(BatchOutlook outlook) => Of(outlook, outlook.Batch);

    private static BatchAnswer Of(BatchOutlook outlook, Batch batch) => new(
        batch.Id,
        batch.Crop,
        batch.Lot,
        batch.Method,
        batch.Seeds,
        batch.SownAt,
        batch.Stays is [.., { When.HasEnd: false } stay] ? stay.Spot : null,
        batch.Looks is [.., var last] ? last.Up : null,
        batch.Looks is [.., var look] ? look.At : null,
        batch.EndedAt,
        ForecastTimes.Of(outlook),
        DiagnosisAnswer.Of(outlook.Diagnosis));
}
