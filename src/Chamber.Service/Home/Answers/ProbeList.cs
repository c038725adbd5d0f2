using NodaTime;

namespace Chamber.Service.Home.Answers;

/// <summary>Every probe that is set up or has spoken.</summary>
internal static class ProbeList
{
    public static List<ProbeAnswer> Read(HomeReader home)
    {
        var ledger = home.Ledger;
        var known = ledger.Probes.ToDictionary(entry => entry.Probe.Id);
        var standing = ledger.Stations.Where(station => !station.When.HasEnd)
            .ToDictionary(station => station.Probe, station => station.Spot);
        var latest = ledger.Readings.Latest(home.Now);
        var refused = AtHand.Of(home.Records.RefusalCountsAsync())
            .Where(count => count.Probe is not null).ToLookup(count => count.Probe!.Value);
        var calibrations = new HomeCalibrations(ledger);
        return [.. known.Keys.Concat(ledger.Readings.Probes).Distinct().OrderBy(probe => probe.Text, StringComparer.Ordinal)
            .Select(probe => new ProbeAnswer(
            probe,
            known.GetValueOrDefault(probe)?.Probe.Measurand,
            known.GetValueOrDefault(probe)?.HandRead ?? false,
            standing.TryGetValue(probe, out var spot) ? spot : null,
            latest.GetValueOrDefault(probe)?.MeasuredAt,
            latest.GetValueOrDefault(probe)?.Temperature?.Value,
            latest.GetValueOrDefault(probe)?.Humidity?.Value,
            latest.GetValueOrDefault(probe)?.Battery?.Value,
            refused[probe].Sum(count => count.Count))
        {
            Corrected = latest.GetValueOrDefault(probe)?.Temperature is { } last
                ? calibrations.Corrected(probe, last.At, last.Value) : null,
            Calibration = calibrations.At(probe, Instant.MaxValue) is { } calibration ? CalibrationAnswer.Of(calibration) : null,
        })];
    }
}
