using System.Globalization;
using Chamber.Core.Climate;
using Chamber.Core.Climate.Moisture;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>What is known of moisture on a spot: what a calibrated media probe says, otherwise what the air can say.</summary>
internal static class SpotMoisture
{
    private static readonly Duration Day = Duration.FromHours(24);

    /// <summary>In words; null when no probe there says anything of it.</summary>
    public static string? Words(HomeReader home, SpotId spot, Instant now)
    {
        var (calibrations, probes) = (new HomeCalibrations(home.Ledger),
            home.Ledger.Probes.ToDictionary(entry => entry.Probe.Id, entry => entry.Probe));
        var here = home.ProbesOn(spot).Select(probe => probes.GetValueOrDefault(probe) ?? new(probe, Measurand.Air, Probe.DefaultMaxGap))
            .ToList();
        return here.Select(probe => OfMedia(home, calibrations, probe.Id, now)).FirstOrDefault(words => words is not null)
            ?? here.Where(probe => probe.Measurand == Measurand.Air).Select(probe => OfAir(home, calibrations, probe, now))
                .FirstOrDefault(words => words is not null);
    }

    private static string? OfMedia(HomeReader home, HomeCalibrations calibrations, ProbeId probe, Instant now)
    {
        if (home.Ledger.Readings.Latest(now).GetValueOrDefault(probe)?.Moisture is not { } raw || now - raw.At > Day
            || calibrations.At(probe, raw.At) is not { } known)
        {
            return null;
        }

        return MediaMoisture.PercentOf(raw.Value, known.DryRaw, known.SaturatedRaw) is { } percent
            ? string.Create(CultureInfo.InvariantCulture, $"The media is at {percent:0} % of its own saturated reading.")
            : null;
    }

    private static string? OfAir(HomeReader home, HomeCalibrations calibrations, Probe probe, Instant now)
    {
        var readings = home.Ledger.Readings.Whole(probe.Id, new(now - Day, now))
            .Where(reading => reading is { Temperature: not null, Humidity: not null })
            .Select(reading => (reading.MeasuredAt, calibrations.Corrected(probe.Id, reading.MeasuredAt, reading.Temperature!.Value),
                Corrected(calibrations, reading)));
        return AirMoisture.Of(readings, probe.MaxGap)?.Words(home.Scale);
    }

    private static RelativeHumidity Corrected(HomeCalibrations calibrations, Reading reading) =>
        RelativeHumidity.FromPercent(
            Math.Clamp(reading.Humidity!.Value.Percent + (calibrations.At(reading.Probe, reading.MeasuredAt)?.HumidityPoints ?? 0), 0,
            100));
}
