namespace Chamber.Core.Spots;

/// <summary>What kind of spot it is; decides which cautions are shown.</summary>
public enum SpotKind
{
    Shelf,
    Cupboard,
    BoilerCupboard,
    HeatMat,
    ApplianceTop,
    Electronics,
    AquariumSide,
    Radiator,
    Sill,

    /// <summary>A refrigerator, for seed that needs a moist chill.</summary>
    Refrigerator,
}

/// <summary>How much light reaches a container on the spot.</summary>
public enum LightLevel
{
    Dark,
    Dim,
    Bright,
}

/// <summary>A warm place where containers stand.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Kind">What sort of spot it is.</param>
/// <param name="Light">How much light a container gets there.</param>
/// <param name="Room">How many containers fit; at least 1.</param>
public sealed record Spot(SpotId Id, SpotKind Kind, LightLevel Light, int Room);
