using Chamber.Core.Climate;
using Chamber.Core.Folding;
using Chamber.Core.Spots;

namespace Chamber.Core.Alerts.Fold;

/// <summary>
/// Writes the hours of a spot from before the time that is folded again after a start, so that what is usual there, and how the spot goes
/// along with the home, is known as well as it was. Only temperatures are needed for that, so that it costs little.
/// </summary>
internal static class EarlierHours
{
    // Before any mark of a fold, so that folding a location again never takes them back.
    private static readonly Moment NeverTakenBack = new(-2);

    /// <summary>The hours of a spot for its log (<see cref="HourLog.Begin"/>).</summary>
    /// <param name="spot">Which spot.</param>
    /// <param name="facts">Who was there when, and the offsets.</param>
    /// <param name="read">The temperatures of a probe as it said them, in order of time.</param>
    public static IReadOnlyList<HourEntry> Of(SpotId spot, HomeFacts facts, Func<ProbeId, IEnumerable<TemperatureSample>> read)
    {
        var hours = new List<HourEntry>();
        foreach (var probe in facts.Stations.Where(station => station.Spot == spot).GroupBy(station => station.Probe))
        {
            var maxGap = TimeSpan.FromTicks(
                (facts.Probes.FirstOrDefault(known => known.Id == probe.Key)?.MaxGap ?? Probe.DefaultMaxGap).BclCompatibleTicks);
            var offsets = facts.Calibrations.Where(known => known.Probe == probe.Key).OrderBy(known => known.From).ToList();
            var stays = probe.Select(station => station.When).ToList();
            var passedOver = facts.SetAside.Where(known => known.Probe == probe.Key).Select(known => known.When).ToList();
            var samples = read(probe.Key).Where(sample => stays.Exists(stay => stay.Contains(sample.At))
                    && !passedOver.Exists(span => span.Contains(sample.At)))
                .Select(sample => new TimedTemperature(Moment.Of(sample.At),
                    sample.Temperature + (offsets.FindLast(known => known.From <= sample.At)?.Offset ?? default)));
            hours.AddRange(Of(probe.Key, maxGap, samples));
        }

        return hours;
    }

    private static IEnumerable<HourEntry> Of(ProbeId probe, TimeSpan maxGap, IEnumerable<TimedTemperature> samples)
    {
        var hour = default(HourMean);
        TimedTemperature? last = null;
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
                var end = hour.Crossing(from, sample);
                hour.Add(from, end);
                if (hour.Mean is { } mean)
                {
                    yield return new(end.At, NeverTakenBack, probe, HourEntryKind.Mean, mean.Celsius);
                }

                hour.Begin(end.At);
                from = end;
            }

            hour.Add(from, sample);
            last = sample;
        }
    }
}
