using System.Globalization;
using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Facts.Probes;

/// <summary>The errors of a probe were found: what counts from then on, until the next time. One of the same moment replaces it.</summary>
/// <param name="Probe">Which probe.</param>
/// <param name="Offset">Added to its temperature, K.</param>
/// <param name="DryRaw">Raw moisture in dry media; null where never taken.</param>
/// <param name="SaturatedRaw">Raw moisture in saturated media; null where never taken.</param>
/// <param name="Note">How it was done ("ice water"), or null.</param>
/// <param name="Uncertainty">Half of the 95 % interval of the offset, K; null where it is not known.</param>
/// <param name="HumidityPoints">Percentage points to add to its humidity; null where never taken.</param>
public sealed record ProbeCalibrated(
    ProbeId Probe,
    TemperatureDifference Offset,
    double? DryRaw = null,
    double? SaturatedRaw = null,
    string? Note = null,
    TemperatureDifference? Uncertainty = null,
    double? HumidityPoints = null) : Fact
{
    public override IReadOnlyList<FactSubject> About() => [FactSubject.Of(Probe)];

    public static DatedFact Of(Calibration calibration)
    {
        ArgumentNullException.ThrowIfNull(calibration);
        return new ProbeCalibrated(
            calibration.Probe, calibration.Offset, calibration.DryRaw, calibration.SaturatedRaw, calibration.Note, calibration.Uncertainty,
            calibration.HumidityPoints).At(calibration.From);
    }

    public override string Words(ShownNames names) =>
        FactWords.Line(string.Create(CultureInfo.InvariantCulture,
            $"probe {names.Of(Probe)} calibrated, {Offset.Kelvins:+0.##;-0.##;0} K"), Note);

    internal override void Apply(HomeFold home, Instant at)
    {
        home.Require(Probe);
        var calibration = new Calibration(Probe, at, Offset, DryRaw, SaturatedRaw, Note) { Uncertainty = Uncertainty,
            HumidityPoints = HumidityPoints };
        FactRefusedException.When(WithinBounds.WhyNot(calibration));
        FactRefusedException.When(
            DryRaw is { } dry && SaturatedRaw is { } saturated && dry.Equals(saturated),
            $"The dry and the saturated reading are the same, so they say nothing; take one in dry mix and one in soaked mix.");
        if (home.Calibrations.TryGetValue(Probe, out var known))
        {
            home.Calibrations[Probe] = [.. known.Where(one => one.From != at)];
        }

        HomeFold.Add(home.Calibrations, Probe, calibration, one => one.From);
    }
}
