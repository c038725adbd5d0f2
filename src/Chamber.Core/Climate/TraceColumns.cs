using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// Times and temperatures in two columns that grow as they are filled. A year of minutes is half a million of each: they are taken over
/// as they are, since another copy would cost more than reading them.
/// </summary>
internal struct TraceColumns
{
    private const int LengthAtFirst = 256;

    private long[] ticks = new long[LengthAtFirst];
    private double[] celsius = new double[LengthAtFirst];
    private int count;
    private bool isInOrder = true;

    public TraceColumns()
    {
    }

    /// <summary>The samples in an interval in order of time; of two at one instant the cooler.</summary>
    public static (ReadOnlyMemory<long> Ticks, ReadOnlyMemory<double> Celsius) Of(IEnumerable<TemperatureSample> samples, Interval when)
    {
        var (from, to) = Bounds(when);
        var columns = new TraceColumns();
        foreach (var sample in samples)
        {
            var at = sample.At.ToUnixTimeTicks();
            if (at >= from && at < to)
            {
                columns.Add(at, sample.Temperature.Celsius);
            }
        }

        return columns.Sorted();
    }

    /// <summary>An interval in ticks since 1970, the second not in it.</summary>
    public static (long From, long To) Bounds(Interval when) =>
        (when.HasStart ? Ceiling(when.Start) : long.MinValue, when.HasEnd ? Ceiling(when.End) : long.MaxValue);

    // A sample's time is cut to the tick, so that a bound between two ticks lies after the earlier one.
    private static long Ceiling(Instant bound) =>
        bound.ToUnixTimeTicks() is var floor && Instant.FromUnixTimeTicks(floor) < bound ? floor + 1 : floor;

    private void Add(long at, double degrees)
    {
        if (count == ticks.Length)
        {
            Array.Resize(ref ticks, count * 2);
            Array.Resize(ref celsius, count * 2);
        }

        isInOrder &= count == 0 || at > ticks[count - 1];
        ticks[count] = at;
        celsius[count++] = degrees;
    }

    private (ReadOnlyMemory<long> Ticks, ReadOnlyMemory<double> Celsius) Sorted()
    {
        if (!isInOrder)
        {
            Array.Sort(ticks, celsius, 0, count);
            Unite();
        }

        return (ticks.AsMemory(0, count), celsius.AsMemory(0, count));
    }

    private void Unite()
    {
        var kept = 0;
        for (var i = 0; i < count; i++)
        {
            if (kept > 0 && ticks[i] == ticks[kept - 1])
            {
                celsius[kept - 1] = Math.Min(celsius[kept - 1], celsius[i]);
                continue;
            }

            (ticks[kept], celsius[kept]) = (ticks[i], celsius[i]);
            kept++;
        }

        count = kept;
    }
}
