using Chamber.Core.Cautions;
using Chamber.Core.Crops;
using Chamber.Core.Spots;

namespace Chamber.Service.Home.Answers;

/// <summary>One line of a ranking for programs. The first seven names are relied on by others.</summary>
internal sealed record RankingAnswer(
    SpotId Spot,
    double Suitability,
    double Low,
    double High,
    double Confidence,
    double? DaysToHalf,
    string Because,
    CropId Crop,
    SurveyStage Survey,
    bool LacksLight,
    SuitabilityParts Parts,
    IReadOnlyList<string> Warnings,
    string CautionLine)
{
    public static RankingAnswer Of(RankedSpot ranked) => new(
        ranked.Spot.Id,
        ranked.Suitability.Score,
        ranked.Suitability.Low,
        ranked.Suitability.High,
        ranked.Suitability.Confidence,
        ranked.DaysToHalf,
        ranked.Because(),
        ranked.Crop.Id,
        ranked.Suitability.Stage,
        ranked.LacksLight,
        ranked.Suitability.Parts,
        HomeWarnings.OfCrop(ranked.Crop),
        CautionText.Lines([CautionRules.Repeated(ranked.Spot.Kind)]));
}
