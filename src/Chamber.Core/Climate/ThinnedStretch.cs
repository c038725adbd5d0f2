using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>Readings near enough in time for straight lines between them, of which only the coolest and the warmest of each part are
/// kept.</summary>
internal sealed class ThinnedStretch
{
    private readonly List<TemperatureSample> samples = [];
    private readonly TimeParts parts;
    private long partEnd = long.MinValue;
    private TemperatureSample low;
    private TemperatureSample high;

    private ThinnedStretch(long start, TimeParts parts)
    {
        (Start, End) = (start, start);
        this.parts = parts;
    }

    /// <summary>The first reading, also when it was not kept; ticks since 1970.</summary>
    public long Start { get; }

    /// <summary>The last reading, likewise.</summary>
    public long End { get; private set; }

    /// <summary>How many readings lie behind it.</summary>
    public int Count { get; private set; }

    public IReadOnlyList<TemperatureSample> Samples => samples;

    /// <summary>Thins the readings of one probe.</summary>
    /// <param name="readings">In order of time.</param>
    /// <param name="stay">Those outside are not used.</param>
    /// <param name="maxGap">Two readings further apart than this leave a gap.</param>
    /// <param name="parts">Of each of these the coolest and the warmest stay.</param>
    /// <param name="taken">What a better probe said, in order of time: readings within it are not used.</param>
    public static List<ThinnedStretch> Of(IEnumerable<TemperatureSample> readings, Interval stay, Duration maxGap, TimeParts parts,
        IReadOnlyList<ThinnedStretch> taken)
    {
        var (from, to) = TraceColumns.Bounds(stay);
        var bound = maxGap.BclCompatibleTicks;
        List<ThinnedStretch> stretches = [];
        ThinnedStretch? open = null;
        var next = 0;
        foreach (var reading in readings)
        {
            var at = reading.At.ToUnixTimeTicks();
            if (at < from || at >= to)
            {
                continue;
            }

            for (; next < taken.Count && taken[next].End < at; next++)
            {
                open = null;
            }

            if (next < taken.Count && taken[next].Start <= at)
            {
                open = null;
                continue;
            }

            if (open is null || at - open.End > bound)
            {
                open?.Close();
                open = new(at, parts);
                stretches.Add(open);
            }

            open.Add(at, reading);
        }

        stretches.ForEach(stretch => stretch.Close());
        return stretches;
    }

    private void Add(long at, TemperatureSample reading)
    {
        if (at >= partEnd)
        {
            Close();
            partEnd = parts.EndOf(at);
            low = high = reading;
        }
        else if (reading.Temperature.Celsius < low.Temperature.Celsius)
        {
            low = reading;
        }
        else if (reading.Temperature.Celsius > high.Temperature.Celsius)
        {
            high = reading;
        }

        End = at;
        Count++;
    }

    private void Close()
    {
        if (partEnd == long.MinValue)
        {
            return;
        }

        samples.Add(low.At <= high.At ? low : high);
        if (low != high)
        {
            samples.Add(low.At <= high.At ? high : low);
        }

        partEnd = long.MinValue;
    }
}
