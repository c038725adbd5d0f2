using Chamber.Core.Spots;

namespace Chamber.Core.Alerts;

/// <summary>The usual cautions where heat is concerned. They defer to makers, local codes and qualified people.</summary>
internal static class Cautions
{
    public static string OfHeat(SpotKind kind) => kind switch
    {
        SpotKind.HeatMat => "Unplug the mat at the wall with dry hands. Never cover, fold or insulate it, and use it with its thermostat as its maker says.",
        SpotKind.BoilerCupboard => "Keep everything that burns clear of the boiler and its flue. If you smell burning or gas, leave it and call whoever is qualified where you live.",
        SpotKind.ApplianceTop or SpotKind.Electronics => "Keep vents clear and water away from it; unplug it if it is hotter than usual, and have it looked at.",
        SpotKind.AquariumSide => "Unplug it before hands or trays come near the water.",
        SpotKind.Radiator => "Nothing that burns should lie on it.",
        SpotKind.Sill => "A shut lid in the sun cooks what is under it: open it.",
        _ => "Whatever heats it: unplug it first, then look. Local codes and qualified people come before this program.",
    };
}
