using Chamber.Core.Climate;

namespace Chamber.Service.Web.Views;

/// <summary>Where a probe or a thermometer can measure, as a question in pictures.</summary>
internal static class Placements
{
    public static IReadOnlyList<PictureOption<Measurand?>> All { get; } =
    [
        new(Measurand.Media, "media", "In the mix or towel", "best"),
        new(Measurand.Air, "air", "In the air", ""),
        new(Measurand.OutsideSurface, "outside-surface", "On the outside", ""),
    ];
}
