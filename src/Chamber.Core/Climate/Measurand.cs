namespace Chamber.Core.Climate;

/// <summary>What a probe's temperature is the temperature of. Air and wet media on one shelf can differ by 4 °C and more.</summary>
public enum Measurand
{
    /// <summary>The air of the room, or under the lid.</summary>
    Air,

    /// <summary>The mix or the towel itself, at the depth of the seed.</summary>
    Media,

    /// <summary>The outside of the container or the bag, or the surface that it is on.</summary>
    OutsideSurface,
}
