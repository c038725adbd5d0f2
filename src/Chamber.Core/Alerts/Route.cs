using NodaTime;

namespace Chamber.Core.Alerts;

/// <summary>Where the readings of a probe are folded, by the time of measurement.</summary>
internal sealed class Route
{
    private readonly PlaceFold alone;
    private readonly (long From, long To, PlaceFold Place)[] stays;

    public Route(PlaceFold alone, IEnumerable<(Interval When, PlaceFold Place)> stays)
    {
        this.alone = alone;
        // The newest first: nearly every reading is of the present station.
        this.stays = [.. stays.Select(stay => (FromOf(stay.When), ToOf(stay.When), stay.Place)).OrderByDescending(stay => stay.Item1)];
    }

    public PlaceFold At(long ticks)
    {
        foreach (var (from, to, place) in stays)
        {
            if (ticks >= from && ticks < to)
            {
                return place;
            }
        }

        return alone;
    }

    private static long FromOf(Interval when) => when.HasStart ? when.Start.ToUnixTimeTicks() : long.MinValue;

    private static long ToOf(Interval when) => when.HasEnd ? when.End.ToUnixTimeTicks() : long.MaxValue;
}

/// <summary>Merges sequences of readings into one.</summary>
internal static class InOrder
{
    /// <summary>The readings of several probes in order of time, and of the probes' names at one instant. Each sequence must be in order of time.</summary>
    public static IEnumerable<Climate.Reading> Merge(IEnumerable<IEnumerable<Climate.Reading>> sequences)
    {
        var queue = new PriorityQueue<IEnumerator<Climate.Reading>, (Instant At, string Probe)>(Comparer<(Instant At, string Probe)>.Create(
            (left, right) => left.At != right.At ? left.At.CompareTo(right.At) : string.CompareOrdinal(left.Probe, right.Probe)));
        foreach (var sequence in sequences)
        {
            Enqueue(queue, sequence.GetEnumerator());
        }

        while (queue.TryDequeue(out var first, out _))
        {
            yield return first.Current;
            Enqueue(queue, first);
        }
    }

    private static void Enqueue(PriorityQueue<IEnumerator<Climate.Reading>, (Instant At, string Probe)> queue, IEnumerator<Climate.Reading> readings)
    {
        if (readings.MoveNext())
        {
            queue.Enqueue(readings, (readings.Current.MeasuredAt, readings.Current.Probe.Text));
        }
        else
        {
            readings.Dispose();
        }
    }
}
