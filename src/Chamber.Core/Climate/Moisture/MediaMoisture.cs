namespace Chamber.Core.Climate.Moisture;

/// <summary>
/// Media moisture relative to the probe's own readings in dry and in saturated media. Capacitive probes have no common scale:
/// they must be calibrated for each medium, and two points are what a home can take.
/// </summary>
public static class MediaMoisture
{
    /// <summary>
    /// Where a raw reading lies between the dry one (0 %) and the saturated one (100 %), bounded to 0 to 120 %; null without a calibration.
    /// The saturated reading may be the lower one: many probes count downwards.
    /// </summary>
    public static double? PercentOf(double raw, double? dryRaw, double? saturatedRaw) =>
        dryRaw is { } dry && saturatedRaw is { } saturated && dry != saturated
            ? Math.Clamp((raw - dry) / (saturated - dry) * 100, 0, 120)
            : null;
}
