using Chamber.Core.Cautions;
using Chamber.Core.Spots;

namespace Chamber.Service.Home.Answers;

/// <summary>A spot that was set up, with what to mind there.</summary>
internal sealed record SpotSaved(SpotId Id, SpotKind Kind, LightLevel Light, int Room, IReadOnlyList<string> Warnings,
    IReadOnlyList<CautionAnswer> Cautions)
{
    public static SpotSaved Of(Spot spot, IReadOnlyList<string> warnings) => new(spot.Id, spot.Kind, spot.Light, spot.Room, warnings,
        [.. CautionRules.SettingUp(spot.Kind, spot.Light).Select(shown => CautionAnswer.Of(shown.Caution))]);
}
