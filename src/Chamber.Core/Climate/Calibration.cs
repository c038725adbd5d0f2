using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>What to add to a probe's temperature and humidity, and how its moisture scale runs, from a date on.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="From">Applies to readings measured from here on, until the next one.</param>
/// <param name="Offset">Added to its temperature.</param>
/// <param name="DryRaw">Raw moisture in dry media; null where never taken.</param>
/// <param name="SaturatedRaw">Raw moisture in saturated media; null where never taken.</param>
/// <param name="Note">How it was done ("ice water"), or null.</param>
public sealed record Calibration(
    ProbeId Probe,
    Instant From,
    TemperatureDifference Offset,
    double? DryRaw = null,
    double? SaturatedRaw = null,
    string? Note = null)
{
    /// <summary>Half of the 95 % interval of the offset; null where it is not known.</summary>
    public TemperatureDifference? Uncertainty { get; init; }

    /// <summary>Percentage points to add to its humidity; null where never taken.</summary>
    public double? HumidityPoints { get; init; }
}
