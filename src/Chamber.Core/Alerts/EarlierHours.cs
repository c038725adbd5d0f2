using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>
/// Writes the hours of a spot from before the time that is folded again after a start, so that what is usual there, and how the spot goes along with the
/// home, is known as well as it was. Only temperatures are needed for that, so that it costs little.
/// </summary>
internal static class EarlierHours
{
    // Before any mark of a fold, so that folding a place again never takes them back.
    private const long NeverTakenBack = -2;

    /// <summary>Fills the log of a spot.</summary>
    /// <param name="log">The log; it holds nothing of that time.</param>
    /// <param name="spot">Which spot.</param>
    /// <param name="facts">Who stood there when, and the offsets.</param>
    /// <param name="read">The temperatures of a probe as it said them, in order of time.</param>
    public static void Write(HourLog log, SpotId spot, HomeFacts facts, Func<ProbeId, IEnumerable<TemperatureSample>> read)
    {
        foreach (var probe in facts.Stations.Where(station => station.Spot == spot).GroupBy(station => station.Probe))
        {
            var maxGap = (facts.Probes.FirstOrDefault(known => known.Id == probe.Key)?.MaxGap ?? Probe.DefaultMaxGap).BclCompatibleTicks;
            var offsets = facts.Calibrations.Where(known => known.Probe == probe.Key).OrderBy(known => known.From).ToList();
            var stays = probe.Select(station => station.When).ToList();
            var samples = read(probe.Key).Where(sample => stays.Exists(stay => stay.Contains(sample.At)))
                .Select(sample => (sample.At.ToUnixTimeTicks(), sample.Temperature.Celsius + OffsetAt(offsets, sample.At)));
            Write(log, probe.Key, maxGap, samples);
        }
    }

    private static double OffsetAt(List<ProbeCalibration> offsets, Instant at) => offsets.FindLast(known => known.From <= at)?.Offset.Kelvins ?? 0;

    private static void Write(HourLog log, ProbeId probe, long maxGap, IEnumerable<(long At, double Celsius)> samples)
    {
        var hour = default(HourMean);
        (long At, double Celsius)? last = null;
        foreach (var sample in samples)
        {
            if (last is not { } from || sample.At - from.At > maxGap)
            {
                hour.Begin(sample.At);
                last = sample;
                continue;
            }

            while (sample.At >= hour.End)
            {
                var end = hour.End;
                var celsius = from.Celsius + (sample.Celsius - from.Celsius) * ((end - from.At) / (double)(sample.At - from.At));
                hour.Add(from.At, from.Celsius, end, celsius);
                if (hour.Mean is { } mean)
                {
                    log.Write(new(end, NeverTakenBack, probe, HourEntryKind.Mean, mean));
                }

                hour.Begin(end);
                from = (end, celsius);
            }

            hour.Add(from.At, from.Celsius, sample.At, sample.Celsius);
            last = sample;
        }
    }
}
