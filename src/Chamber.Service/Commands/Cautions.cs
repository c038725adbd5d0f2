using Chamber.Core.Spots;

namespace Chamber.Service.Commands;

/// <summary>
/// The usual caution for each kind of spot, shown before its score. Common practice; local codes and qualified people come first.
/// </summary>
internal static class Cautions
{
    private const string Defer = " Follow the maker's instructions and your local code; ask a qualified person when in doubt.";

    public static string? Of(SpotKind kind) => kind switch
    {
        SpotKind.HeatMat => "Caution: use a mat made for the job, with a thermostat; never fold or cover it; plug it into a socket with residual-current protection, with a drip loop in the cord." + Defer,
        SpotKind.BoilerCupboard => "Caution: keep the maker's clearance around boiler and flue, nothing that burns near them, vents open, and a carbon-monoxide alarm in the room." + Defer,
        SpotKind.ApplianceTop => "Caution: never cover the vents; keep water away from the cord and the socket." + Defer,
        SpotKind.Electronics => "Caution: no water above electronics: put the seed in a sealed bag beside them, never on top with a wet box." + Defer,
        SpotKind.AquariumSide => "Caution: unplug the tank before hands or trays come near the water; mind the drip loop." + Defer,
        SpotKind.Radiator => "Caution: nothing that burns on a radiator; it can pass 50 °C (120 °F)." + Defer,
        SpotKind.Sill => "Caution: a shut lid in the sun cooks what is under it.",
        _ => null,
    };
}
