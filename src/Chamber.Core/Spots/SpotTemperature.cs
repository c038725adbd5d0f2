using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Spots;

/// <summary>One probe's part in the temperature of a spot.</summary>
/// <param name="Probe">The probe: what it measures, and its gap bound.</param>
/// <param name="Stays">When it was on the spot.</param>
/// <param name="Samples">Its temperatures as read, in any order; those outside its stays are not used.</param>
/// <param name="Offsets">Its calibration, in any order; none means that its offset is not known.</param>
public sealed record SpotProbe(
    Probe Probe,
    IReadOnlyList<Interval> Stays,
    IEnumerable<TemperatureSample> Samples,
    IReadOnlyList<OffsetStep> Offsets);

/// <summary>
/// Makes one temperature of a spot out of its probes: media before outside surface before air, because the seed lies in the media; where
/// the better one has a gap, the next one steps in. Each stretch of the result says whose it is. Of two probes that measure alike, the one
/// with the lower name is taken, so that the answer does not depend on their order.
/// </summary>
public static class SpotTemperature
{
    /// <summary>The trace of a spot; empty when no probe said anything during its stays.</summary>
    public static TemperatureTrace Of(IEnumerable<SpotProbe> probes)
    {
        List<TemperatureStretch> taken = [];
        var maxGap = Duration.Zero;
        foreach (var probe in BestFirst(probes))
        {
            maxGap = Duration.Max(maxGap, probe.Probe.MaxGap);
            foreach (var stay in InOrder(probe.Stays))
            {
                var own = TemperatureTrace.Of(
                    Calibrated(probe.Samples, probe.Offsets),
                    stay,
                    probe.Probe.MaxGap,
                    new(probe.Probe.Id, probe.Probe.Measurand, probe.Offsets.Count > 0));
                taken = Fill(taken, own.Stretches);
            }
        }

        return new(taken, maxGap == Duration.Zero ? Probe.DefaultMaxGap : maxGap);
    }

    /// <summary>The same thinned while it is read; the samples of each probe must be in order of time.</summary>
    /// <param name="probes">The probes.</param>
    /// <param name="when">What is cut into parts; with a start and an end.</param>
    /// <param name="parts">Into how many, at least 1; of each the coolest and the warmest reading of a stretch stay.</param>
    public static ThinnedTrace Thinned(IEnumerable<SpotProbe> probes, Interval when, int parts)
    {
        var cut = new TimeParts(when, parts);
        List<ThinnedStretch> taken = [];
        foreach (var probe in BestFirst(probes))
        {
            foreach (var stay in InOrder(probe.Stays))
            {
                var own = ThinnedStretch.Of(Calibrated(probe.Samples, probe.Offsets), stay, probe.Probe.MaxGap, cut, taken);
                taken = [.. taken.Concat(own).OrderBy(stretch => stretch.Start)];
            }
        }

        return ThinnedTrace.Of(taken);
    }

    /// <summary>How much of a trace each kind of probe measured, 0 to 1 in all; empty without measured time.</summary>
    public static IReadOnlyDictionary<Measurand, double> Shares(TemperatureTrace trace)
    {
        var whole = trace.MeasuredTime.TotalHours;
        return trace.Stretches
            .Where(stretch => stretch.Origin is not null && stretch.End > stretch.Start)
            .GroupBy(stretch => stretch.Origin!.Measurand)
            .ToDictionary(group => group.Key, group => group.Sum(stretch => (stretch.End - stretch.Start).TotalHours) / whole);
    }

    private static IEnumerable<SpotProbe> BestFirst(IEnumerable<SpotProbe> probes) =>
        probes.OrderBy(probe => Rank(probe.Probe.Measurand)).ThenBy(probe => probe.Probe.Id.Text, StringComparer.Ordinal);

    private static IEnumerable<Interval> InOrder(IEnumerable<Interval> stays) =>
        stays.OrderBy(stay => stay.HasStart ? stay.Start : Instant.MinValue);

    private static int Rank(Measurand measurand) => measurand switch
    {
        Measurand.Media => 0,
        Measurand.OutsideSurface => 1,
        _ => 2,
    };

    private static IEnumerable<TemperatureSample> Calibrated(IEnumerable<TemperatureSample> samples, IReadOnlyList<OffsetStep> offsets)
    {
        if (offsets.Count == 0)
        {
            return samples;
        }

        var steps = offsets.OrderBy(step => step.From).ToArray();
        return samples.Select(sample =>
        {
            var index = Array.FindLastIndex(steps, step => step.From <= sample.At);
            return index < 0 ? sample : sample with { Temperature = sample.Temperature + steps[index].Offset };
        });
    }

    /// <summary>Puts the parts of <paramref name="others"/> that lie in the gaps of <paramref name="taken"/> between them.</summary>
    private static List<TemperatureStretch> Fill(List<TemperatureStretch> taken, IReadOnlyList<TemperatureStretch> others)
    {
        List<TemperatureStretch> all = [.. taken];
        foreach (var other in others)
        {
            var from = other.Ticks[0];
            if (other.Count == 1 && !taken.Exists(stretch => stretch.Ticks[0] <= from && stretch.Ticks[^1] >= from))
            {
                all.Add(other);
                continue;
            }

            foreach (var obstacle in taken.Where(stretch => stretch.Ticks[^1] > other.Ticks[0] && stretch.Ticks[0] < other.Ticks[^1]))
            {
                AddPart(all, other, from, obstacle.Ticks[0]);
                from = Math.Max(from, obstacle.Ticks[^1]);
            }

            AddPart(all, other, from, other.Ticks[^1]);
        }

        all.Sort((left, right) => (left.Ticks[0], left.Ticks[^1]).CompareTo((right.Ticks[0], right.Ticks[^1])));
        return all;
    }

    private static void AddPart(List<TemperatureStretch> all, TemperatureStretch other, long from, long to)
    {
        if (from < to)
        {
            all.Add(other.Cut(from, to));
        }
    }
}
