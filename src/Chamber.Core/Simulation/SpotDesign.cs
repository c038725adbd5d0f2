using Chamber.Core.Spots;

namespace Chamber.Core.Simulation;

/// <summary>A heat mat under the container.</summary>
/// <param name="Rise">How far it would lift the media above the air if it stayed on, K.</param>
/// <param name="SwitchesOffAt">The media temperature at which its thermostat opens, °C; null without a thermostat.</param>
internal sealed record HeatMatDesign(double Rise, double? SwitchesOffAt);

/// <summary>The physics of one warm spot, as first-order lags about what drives it.</summary>
/// <param name="Spot">The spot as a grower would enter it.</param>
/// <param name="AirAboveRoom">How far the air would be above the room if nothing changed, K.</param>
/// <param name="AirLagHours">Time constant of the air about the container.</param>
/// <param name="MediaLagHours">Time constant of the wet mix or towel.</param>
/// <param name="Lid">Whether the container is covered: no evaporation, saturated air, sun is caught.</param>
/// <param name="SunOnMedia">How far full sun lifts the media, K per W/m².</param>
/// <param name="Mat">The mat, where there is one.</param>
internal sealed record SpotDesign(
    Spot Spot,
    Func<Flat, Outdoors, double> AirAboveRoom,
    double AirLagHours,
    double MediaLagHours,
    bool Lid,
    double SunOnMedia = 0,
    HeatMatDesign? Mat = null);
