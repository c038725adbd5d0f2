using Chamber.Core.Climate;

namespace Chamber.Core.Crops;

/// <summary>
/// What a profile fitted to somebody's trials does not know beyond its coldest and its warmest one: how far ln θ50 may be off there, on top
/// of all other doubt. It grows with the distance, so that a guess looks like one.
/// </summary>
public static class Untried
{
    /// <summary>
    /// For each kelvin: five beyond the trials the 80 % interval spans a factor of thirteen either way. An assumption: published profiles
    /// of one crop part by as much beyond their data, and a ceiling or a base may lie there.
    /// </summary>
    private const double PerKelvin = 0.4;

    /// <summary>More doubt than this says no more.</summary>
    private const double Most = 2;

    /// <summary>The doubt at a steady temperature; 0 where it was tried, and for profiles that were not fitted to trials.</summary>
    public static double At(GerminationProfile profile, Temperature temperature)
    {
        ArgumentNullException.ThrowIfNull(profile);
        return profile.Tried is { } tried
            ? Math.Min(Most,
                PerKelvin * Math.Max(0, Math.Max(tried.Low.Celsius - temperature.Celsius, temperature.Celsius - tried.High.Celsius)))
            : 0;
    }

    /// <summary>The doubt over a spot's usual day.</summary>
    public static double Over(GerminationProfile profile, HourOfDayProfile usual) =>
        profile.Tried is null ? 0 : usual.Hours.Where(hour => hour is not null).Select(hour => At(profile, hour!.Value.Mean))
            .DefaultIfEmpty(0).Average();
}
