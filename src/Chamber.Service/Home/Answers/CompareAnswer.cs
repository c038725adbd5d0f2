using Chamber.Core.Statistics;

namespace Chamber.Service.Home.Answers;

/// <summary>A comparison for programs.</summary>
internal sealed record CompareAnswer(
    double PValue,
    ShareInterval Difference,
    double OddsRatio,
    double OddsLow,
    double OddsHigh,
    bool IsProof,
    int? SeedsToSettle,
    int? MoreOfFirst,
    int? MoreOfSecond,
    string Words,
    BatchPair? Batches,
    SpeedComparison? Speed)
{
    public static CompareAnswer Of(CountComparison comparison, BatchPair? pair, SpeedComparison? speed)
    {
        var odds = FisherExact.Of(comparison.First, comparison.Second);
        return new(
            comparison.PValue,
            comparison.Difference,
            odds.OddsRatio,
            odds.OddsLow,
            odds.OddsHigh,
            comparison.IsProof,
            comparison.SeedsToSettle,
            comparison.MoreSeeds?.First,
            comparison.MoreSeeds?.Second,
            comparison.Words,
            pair,
            speed);
    }
}
