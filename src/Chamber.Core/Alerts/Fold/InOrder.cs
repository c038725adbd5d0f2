using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Core.Alerts.Fold;

/// <summary>Merges sequences of readings into one.</summary>
internal static class InOrder
{
    /// <summary>The readings of several probes in order of time, and of the probes' names at one instant. Each sequence must be in order of
    /// time.</summary>
    public static IEnumerable<Reading> Merge(IEnumerable<IEnumerable<Reading>> sequences)
    {
        var queue = new PriorityQueue<IEnumerator<Reading>, (Instant At, string Probe)>(Comparer<(Instant At, string Probe)>.Create(
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

    private static void Enqueue(PriorityQueue<IEnumerator<Reading>, (Instant At, string Probe)> queue, IEnumerator<Reading> readings)
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
