using System.Globalization;
using MathNet.Numerics.Statistics;

namespace Chamber.Core.Climate.Moisture;

/// <summary>A raw moisture that stands for dry or for saturated media.</summary>
/// <param name="Raw">The median; null when none can be found.</param>
/// <param name="Spread">From the lowest to the highest.</param>
/// <param name="Refusal">Why not; empty when there is one.</param>
public sealed record MoistureAnswer(double? Raw, double Spread, string Refusal);

/// <summary>Takes the two points of a moisture probe's own scale. The bounds are common practice, no source.</summary>
public static class MoistureCalibration
{
    /// <summary>Fewer readings tell too little.</summary>
    public const int ReadingsMin = 3;

    /// <summary>So many times the noise must lie between dry and saturated.</summary>
    private const double NoiseMin = 5;

    /// <summary>One point from raw readings taken in one state of the media.</summary>
    public static MoistureAnswer Point(IReadOnlyList<double> raw)
    {
        ArgumentNullException.ThrowIfNull(raw);
        return raw.Count < ReadingsMin
            ? new(null, 0,
                string.Create(CultureInfo.InvariantCulture,
                $"There are {raw.Count} readings of moisture in that time; {ReadingsMin} are needed. Wait, or give the raw "
                    + $"value yourself."))
            : new(raw.Median(), raw.Max() - raw.Min(), "");
    }

    /// <summary>Why two points make no scale; null when they do.</summary>
    /// <param name="dryRaw">In dry media.</param>
    /// <param name="saturatedRaw">In saturated media.</param>
    /// <param name="spread">The noise of the readings, in raw units.</param>
    public static string? Fault(double dryRaw, double saturatedRaw, double spread) =>
        Math.Abs(saturatedRaw - dryRaw) <= NoiseMin * spread || dryRaw.Equals(saturatedRaw)
            ? string.Create(CultureInfo.InvariantCulture, $"Dry ({dryRaw:0.###}) and saturated ({saturatedRaw:0.###}) are too close for "
                + $"readings that vary by {spread:0.###}: take one in dry and one in soaked mix, the probe in to the same depth.")
            : null;
}
