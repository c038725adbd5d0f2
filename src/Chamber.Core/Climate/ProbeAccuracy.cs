namespace Chamber.Core.Climate;

/// <summary>
/// How far the level of everything that a probe says may be off, by as much for all its readings alike: half the width of an 80 % interval.
/// </summary>
public static class ProbeAccuracy
{
    /// <summary>
    /// 0.5 K: a cheap sensor as it comes. Data sheets of the usual chips say ±0.3 K typical and 0.04 K of drift a year (Sensirion, SHT20,
    /// 2011, and SHT3x, 2014); what case, cable and placement add to that is common practice, no source.
    /// </summary>
    public static readonly TemperatureDifference Uncalibrated = TemperatureDifference.FromKelvins(0.5);

    /// <summary>0.2 K: a sensor whose offset was found here. What is left is the reference's own doubt and drift since: common practice, no
    /// source.</summary>
    public static readonly TemperatureDifference Calibrated = TemperatureDifference.FromKelvins(0.2);

    /// <summary>Of a stretch of readings; where nobody said whose they are, as of a sensor as it comes.</summary>
    public static TemperatureDifference Of(TraceOrigin? origin) => origin?.Calibrated == true ? Calibrated : Uncalibrated;
}
