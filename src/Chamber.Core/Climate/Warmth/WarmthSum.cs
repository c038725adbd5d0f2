using NodaTime;

namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// Warm-hours over some time, and what stands behind them. The measured, estimated and unknown times add up to the whole.
/// The default value is no time at all.
/// </summary>
/// <param name="Measured">Warm-hours of measured time.</param>
/// <param name="Estimated">Warm-hours of gaps that the usual day of the spot filled.</param>
/// <param name="MeasuredTime">Time between readings no further apart than the probe's bound.</param>
/// <param name="EstimatedTime">Time in gaps that could be filled.</param>
/// <param name="UnknownTime">Time in gaps that nothing could fill; it adds no warm-hours.</param>
/// <param name="HoursBelow">Measured hours below the cool limit.</param>
/// <param name="HoursAbove">Measured hours above the hot limit.</param>
public readonly record struct WarmthSum(
    WarmHours Measured,
    WarmHours Estimated,
    Duration MeasuredTime,
    Duration EstimatedTime,
    Duration UnknownTime,
    double HoursBelow,
    double HoursAbove)
{
    /// <summary>Warm-hours of measured and estimated time.</summary>
    public WarmHours Total => Measured + Estimated;

    /// <summary>The share of the warm-hours that was measured, 0 to 1; 1 where there are none.</summary>
    public double MeasuredShare => Total.CelsiusHours > 0 ? Measured.CelsiusHours / Total.CelsiusHours : 1;

    public static WarmthSum operator +(WarmthSum left, WarmthSum right) => new(
        left.Measured + right.Measured,
        left.Estimated + right.Estimated,
        left.MeasuredTime + right.MeasuredTime,
        left.EstimatedTime + right.EstimatedTime,
        left.UnknownTime + right.UnknownTime,
        left.HoursBelow + right.HoursBelow,
        left.HoursAbove + right.HoursAbove);
}

/// <summary>The warm-hours of one local day, or of the part of it that was asked for.</summary>
public readonly record struct WarmthDay(LocalDate Date, WarmthSum Sum);

/// <summary>The warm-hours of a stretch of time, in total and by local day.</summary>
/// <param name="When">The whole time.</param>
/// <param name="Total">The sum of the days.</param>
/// <param name="Days">In order; a night of 23 or 25 hours counts as it is.</param>
public sealed record WarmthReport(Interval When, WarmthSum Total, IReadOnlyList<WarmthDay> Days);
