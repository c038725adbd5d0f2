namespace Chamber.Core.Climate.Moisture;

/// <summary>
/// Wet media in the open cools itself: its surface drifts towards the wet-bulb temperature, 2 to 8 K below a room's air. That is neither a
/// fault of the probe nor a cold spot; a cover takes most of it away. A gap that closes by itself means that the media dries out or has
/// been covered.
/// </summary>
public static class EvaporativeCooling
{
    /// <summary>K below the air from which on evaporation is the likely reason, and beyond which it is not enough. Common practice, no
    /// source; the wet bulb at 22 °C and 40 % lies 8 K below.</summary>
    public const double LeastKelvins = 2;

    /// <summary>See <see cref="LeastKelvins"/>.</summary>
    public const double MostKelvins = 8.5;

    /// <summary>Whether evaporation alone explains how much cooler media is than the air around it.</summary>
    public static bool Explains(double airCelsius, double mediaCelsius) => airCelsius - mediaCelsius is >= LeastKelvins and <= MostKelvins;
}
