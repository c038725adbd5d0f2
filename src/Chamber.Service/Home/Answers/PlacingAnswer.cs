using Chamber.Core.Cautions;
using Chamber.Core.Spots;
using Chamber.Core.Spots.Placing;

namespace Chamber.Service.Home.Answers;

/// <summary>A placing for programs.</summary>
internal sealed record PlacingAnswer(string What, SpotId? Spot, double? DaysLost, string Why, SpotId? NextBest, double? NextBestCosts,
    string CautionLine)
{
    public static IEnumerable<PlacingAnswer> Of(HomeReader home, IReadOnlyList<PlacedItem> placing)
    {
        var lines = home.Spots().ToDictionary(spot => spot.Id, spot => CautionText.Lines([CautionRules.Repeated(spot.Kind)]));
        return placing.Select(one => new PlacingAnswer(
            one.Item.Name,
            one.Cost?.Spot,
            one.Cost?.Days,
            HomePlacing.Why(one),
            one.NextBest,
            one.NextBestCosts,
            one.Cost is { } cost ? lines[cost.Spot] : ""));
    }
}
