using Chamber.Core.Climate;
using Chamber.Core.Facts;
using NodaTime;

namespace Chamber.Service.Home;

/// <summary>
/// The readings that a request asks for: each stretch of a probe is loaded once and kept for the next question. What was set aside is
/// passed over. Any thread may ask.
/// </summary>
internal sealed class HomeReadings(IHomeStore store, IReadOnlyList<SetAside> setAside)
{
    /// <summary>Longer times, as charts of a year have them, are passed through and not kept.</summary>
    private static readonly Duration KeptLengthMax = Duration.FromDays(62);

    /// <summary>So many temperatures are kept at most, 12 MB.</summary>
    private const int KeptMax = 500_000;

    private readonly Lock gate = new();
    private readonly Dictionary<ProbeId, (Interval When, TemperatureSample[] Samples)> kept = [];
    private readonly ILookup<ProbeId, Interval> aside = setAside.ToLookup(span => span.Probe, span => span.When);
    private readonly Lazy<IReadOnlyList<ProbeId>> probes = new(() => AtHand.Of(store.ProbesAsync()), LazyThreadSafetyMode.PublicationOnly);
    private (Instant Now, Dictionary<ProbeId, LatestReading> Of)? latest;
    private int count;

    /// <summary>Every probe that has a name, because it spoke or was set up.</summary>
    public IReadOnlyList<ProbeId> Probes => probes.Value;

    /// <summary>The newest of each quantity of every probe that has spoken.</summary>
    public IReadOnlyDictionary<ProbeId, LatestReading> Latest(Instant now)
    {
        lock (gate)
        {
            if (latest is not var (at, known) || at != now)
            {
                known = AtHand.Of(store.LatestAsync(now)).ToDictionary(reading => reading.Probe);
                latest = (now, known);
            }

            return known;
        }
    }

    /// <summary>The readings of one probe in an interval, in order of time.</summary>
    public IEnumerable<Reading> Whole(ProbeId probe, Interval when) =>
        Used(probe, when).SelectMany(part => AtHand.Of(store.ReadingsAsync(probe, part)));

    /// <summary>The temperatures of one probe in an interval, in order of time.</summary>
    public IEnumerable<TemperatureSample> Temperatures(ProbeId probe, Interval when) =>
        when is { HasStart: true, HasEnd: true } && when.Duration <= KeptLengthMax ? Kept(probe, when) : Stream(probe, when);

    private ArraySegment<TemperatureSample> Kept(ProbeId probe, Interval when)
    {
        lock (gate)
        {
            if (!kept.TryGetValue(probe, out var known) || when.Start < known.When.Start || when.End > known.When.End)
            {
                known = Load(probe, when, known);
            }

            var (from, end) = (IndexOf(known.Samples, when.Start), IndexOf(known.Samples, when.End));
            return new(known.Samples, from, end - from);
        }
    }

    // With what is kept of the probe already, as long as both lie close enough together.
    private (Interval When, TemperatureSample[] Samples) Load(ProbeId probe, Interval when,
        (Interval When, TemperatureSample[]? Samples) before)
    {
        if (before.Samples is { } old)
        {
            count -= old.Length;
            kept.Remove(probe);
            var both = new Interval(Instant.Min(when.Start, before.When.Start), Instant.Max(when.End, before.When.End));
            when = both.Duration <= KeptLengthMax ? both : when;
        }

        (Interval, TemperatureSample[] Samples) loaded = (when, [.. Stream(probe, when)]);
        if (count + loaded.Samples.Length > KeptMax)
        {
            kept.Clear();
            count = 0;
        }

        if (loaded.Samples.Length <= KeptMax)
        {
            kept[probe] = loaded;
            count += loaded.Samples.Length;
        }

        return loaded;
    }

    private IEnumerable<TemperatureSample> Stream(ProbeId probe, Interval when)
    {
        foreach (var used in Used(probe, when))
        {
            foreach (var part in AtHand.Of(store.TemperaturesAsync(probe, used)))
            {
                for (var i = 0; i < part.Length; i++)
                {
                    yield return part.Span[i];
                }
            }
        }
    }

    // What is left of an interval beside the spans that were set aside, which are in order of their starts.
    private IEnumerable<Interval> Used(ProbeId probe, Interval when)
    {
        var (from, end) = (when.HasStart ? when.Start : Instant.MinValue, when.HasEnd ? when.End : Instant.MaxValue);
        foreach (var span in aside[probe].Where(span => span.End > from && span.Start < end))
        {
            if (span.Start > from)
            {
                yield return new(from == Instant.MinValue ? null : from, span.Start);
            }

            from = Instant.Max(from, span.End);
        }

        if (from < end)
        {
            yield return new(from == Instant.MinValue ? null : from, end == Instant.MaxValue ? null : end);
        }
    }

    // The first that is not before a moment.
    private static int IndexOf(TemperatureSample[] samples, Instant at)
    {
        var (low, high) = (0, samples.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = samples[middle].At < at ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
