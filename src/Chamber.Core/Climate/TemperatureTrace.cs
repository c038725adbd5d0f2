using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// The temperature of one spot over time: stretches within which a straight line holds between neighbouring readings, and gaps between
/// them. Readings in any order, and given twice, make the same trace. Immutable.
/// </summary>
public sealed class TemperatureTrace
{
    internal TemperatureTrace(IReadOnlyList<TemperatureStretch> stretches, Duration maxGap)
    {
        Stretches = stretches;
        MaxGap = maxGap;
    }

    /// <summary>In order of time, without overlap. Two may meet at an instant where one probe takes over from another.</summary>
    public IReadOnlyList<TemperatureStretch> Stretches { get; }

    /// <summary>Before the first and after the last reading its temperature is held for this long, as an estimate.</summary>
    public Duration MaxGap { get; }

    /// <summary>From the first reading to the last; null when there is none.</summary>
    public Interval? Span => Stretches.Count == 0 ? null : new(Stretches[0].Start, Stretches[^1].End);

    /// <summary>Time covered by stretches.</summary>
    public Duration MeasuredTime => Duration.FromTicks(Stretches.Sum(stretch => stretch.Ticks[^1] - stretch.Ticks[0]));

    /// <summary>A trace of one probe.</summary>
    /// <param name="samples">In any order; of two at one instant the cooler is taken.</param>
    /// <param name="maxGap">Two readings further apart than this leave a gap; positive.</param>
    /// <param name="origin">Whose readings they are, where that is known.</param>
    public static TemperatureTrace Of(IEnumerable<TemperatureSample> samples, Duration maxGap, TraceOrigin? origin = null) =>
        Of(samples, new Interval(null, null), maxGap, origin);

    /// <summary>The same of those samples only that lie in an interval.</summary>
    internal static TemperatureTrace Of(IEnumerable<TemperatureSample> samples, Interval when, Duration maxGap, TraceOrigin? origin)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(maxGap, Duration.Zero);
        var (ticks, celsius) = TraceColumns.Of(samples, when);
        List<TemperatureStretch> stretches = [];
        var at = ticks.Span;
        var bound = maxGap.BclCompatibleTicks;
        for (var start = 0; start < ticks.Length;)
        {
            var end = start + 1;
            while (end < at.Length && at[end] - at[end - 1] <= bound)
            {
                end++;
            }

            stretches.Add(new(ticks[start..end], celsius[start..end], origin));
            start = end;
        }

        return new(stretches, maxGap);
    }

    /// <summary>Hands every line and every gap between two instants to a sink, in order of time.</summary>
    internal void Walk<TSink>(long from, long to, ref TSink sink)
        where TSink : struct, ITraceSink
    {
        if (Stretches.Count == 0)
        {
            sink.Gap(from, to);
            return;
        }

        var bound = MaxGap.BclCompatibleTicks;
        var first = Stretches[0];
        Missing(from, Math.Min(to, first.Ticks[0] - bound), ref sink);
        Held(Math.Max(from, first.Ticks[0] - bound), Math.Min(to, first.Ticks[0]), first.Celsius[0], ref sink);
        for (var i = 0; i < Stretches.Count; i++)
        {
            if (i > 0)
            {
                Missing(Math.Max(from, Stretches[i - 1].Ticks[^1]), Math.Min(to, Stretches[i].Ticks[0]), ref sink);
            }

            Stretches[i].Walk(from, to, ref sink);
        }

        var last = Stretches[^1];
        Held(Math.Max(from, last.Ticks[^1]), Math.Min(to, last.Ticks[^1] + bound), last.Celsius[^1], ref sink);
        Missing(Math.Max(from, last.Ticks[^1] + bound), to, ref sink);
    }

    private static void Missing<TSink>(long from, long to, ref TSink sink)
        where TSink : struct, ITraceSink
    {
        if (from < to)
        {
            sink.Gap(from, to);
        }
    }

    private static void Held<TSink>(long from, long to, double celsius, ref TSink sink)
        where TSink : struct, ITraceSink
    {
        if (from < to)
        {
            sink.Held(from, to, celsius);
        }
    }
}

/// <summary>Whose readings a stretch holds.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Measurand">What it measures.</param>
/// <param name="Calibrated">Whether its offset is known and applied.</param>
public sealed record TraceOrigin(ProbeId Probe, Measurand Measurand, bool Calibrated);

/// <summary>Temperatures near enough in time for straight lines between them; at least one.</summary>
public sealed class TemperatureStretch
{
    private readonly ReadOnlyMemory<long> ticks;
    private readonly ReadOnlyMemory<double> celsius;

    internal TemperatureStretch(ReadOnlyMemory<long> ticks, ReadOnlyMemory<double> celsius, TraceOrigin? origin)
    {
        this.ticks = ticks;
        this.celsius = celsius;
        Origin = origin;
    }

    /// <summary>Whose readings they are; null where nobody said.</summary>
    public TraceOrigin? Origin { get; }

    /// <summary>How many temperatures it holds.</summary>
    public int Count => ticks.Length;

    public Instant Start => Instant.FromUnixTimeTicks(Ticks[0]);

    public Instant End => Instant.FromUnixTimeTicks(Ticks[^1]);

    /// <summary>The temperatures, in order of time.</summary>
    public IEnumerable<TemperatureSample> Samples =>
        Enumerable.Range(0, Count)
            .Select(i => new TemperatureSample(Instant.FromUnixTimeTicks(Ticks[i]), Temperature.FromCelsius(Celsius[i])));

    internal ReadOnlySpan<long> Ticks => ticks.Span;

    internal ReadOnlySpan<double> Celsius => celsius.Span;

    /// <summary>The temperature on the line at an instant within the stretch.</summary>
    internal double At(long instant)
    {
        var index = Ticks.BinarySearch(instant);
        return index >= 0 ? Celsius[index] : OnLine(~index, instant);
    }

    /// <summary>The part of the stretch between two instants within it, cut on the line.</summary>
    internal TemperatureStretch Cut(long from, long to)
    {
        var inside = Enumerable.Range(0, Count).Where(i => Ticks[i] > from && Ticks[i] < to).ToArray();
        long[] at = [from, .. inside.Select(i => Ticks[i]), to];
        double[] degrees = [At(from), .. inside.Select(i => Celsius[i]), At(to)];
        return from == Ticks[0] && to == Ticks[^1] ? this : new(at, degrees, Origin);
    }

    internal void Walk<TSink>(long from, long to, ref TSink sink)
        where TSink : struct, ITraceSink
    {
        var at = Ticks;
        var degrees = Celsius;
        if (at[^1] <= from || at[0] >= to)
        {
            return;
        }

        var start = at.BinarySearch(from);
        var i = start >= 0 ? start : Math.Max(0, ~start - 1);
        for (; i + 1 < at.Length && at[i] < to; i++)
        {
            if (at[i] >= from && at[i + 1] <= to)
            {
                sink.Line(at[i], degrees[i], at[i + 1], degrees[i + 1]);
            }
            else
            {
                var (left, right) = (Math.Max(from, at[i]), Math.Min(to, at[i + 1]));
                sink.Line(left, OnLine(i + 1, left), right, OnLine(i + 1, right));
            }
        }
    }

    private double OnLine(int next, long instant)
    {
        var at = Ticks;
        var degrees = Celsius;
        var weight = (double)(instant - at[next - 1]) / (at[next] - at[next - 1]);
        return degrees[next - 1] + weight * (degrees[next] - degrees[next - 1]);
    }
}

/// <summary>Takes in the lines and gaps of a trace. A struct, so that the walk is compiled for it without a call in between.</summary>
internal interface ITraceSink
{
    /// <summary>A straight line of temperature between two instants, the second later.</summary>
    void Line(long fromTicks, double fromCelsius, long toTicks, double toCelsius);

    /// <summary>A temperature held before the first or after the last reading.</summary>
    void Held(long fromTicks, long toTicks, double celsius);

    /// <summary>Nothing was measured.</summary>
    void Gap(long fromTicks, long toTicks);
}
