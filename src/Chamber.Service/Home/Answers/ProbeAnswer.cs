using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>A probe for programs.</summary>
internal sealed record ProbeAnswer(
    ProbeId Probe,
    Measurand? Measures,
    bool HandRead,
    SpotId? Spot,
    Instant? At,
    Temperature? Temperature,
    RelativeHumidity? Humidity,
    double? Battery,
    long Refused)
{
    /// <summary>The temperature with the probe's offset added; <see cref="Temperature"/> is as it was read.</summary>
    public Temperature? Corrected { get; init; }

    /// <summary>What is added to its readings now; null when nothing is.</summary>
    public CalibrationAnswer? Calibration { get; init; }
}

/// <summary>A calibration for programs.</summary>
internal sealed record CalibrationAnswer(ProbeId Probe, Instant From, double OffsetKelvins, double? UncertaintyKelvins,
    double? HumidityPoints, double? DryRaw, double? SaturatedRaw, string? Note)
{
    /// <summary>What to mind at such a trial; only in the answer to one that was just made.</summary>
    public IReadOnlyList<CautionAnswer>? Cautions { get; init; }

    public static CalibrationAnswer Of(Calibration calibration) => new(
        calibration.Probe, calibration.From, calibration.Offset.Kelvins, calibration.Uncertainty?.Kelvins, calibration.HumidityPoints,
            calibration.DryRaw, calibration.SaturatedRaw, calibration.Note);
}
