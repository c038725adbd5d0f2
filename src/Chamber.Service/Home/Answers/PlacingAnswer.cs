using Chamber.Core.Spots;
using Chamber.Core.Spots.Placing;

namespace Chamber.Service.Home.Answers;

/// <summary>A placing for programs.</summary>
internal sealed record PlacingAnswer(string What, SpotId? Spot, double? DaysLost, string Why, SpotId? NextBest, double? NextBestCosts)
{
    public static PlacingAnswer Of(PlacedItem placing) => new(
        placing.Item.Name,
        placing.Cost?.Spot,
        placing.Cost?.Days,
        HomePlacing.Why(placing),
        placing.NextBest,
        placing.NextBestCosts);
}
