using NodaTime;

namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// Adds up warm-hours over temperatures in order of time, taking a straight line between two of them unless they lie
/// further apart than the gap bound. The integral is exact, so a tally over two parts that share their meeting point
/// equals the tally over the whole. Allocates only for gaps. Not thread-safe.
/// </summary>
public sealed class WarmthTally
{
    private readonly long maxGapTicks;
    private readonly List<Interval> gaps = [];

    private long lastTicks;
    private double lastCelsius;
    private bool started;
    private LineSum sum;

    /// <param name="limits">The crop's cardinal temperatures and limits.</param>
    /// <param name="maxGap">Two temperatures further apart than this leave a gap; positive.</param>
    public WarmthTally(WarmthLimits limits, Duration maxGap)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(maxGap, Duration.Zero);
        sum = new(limits);
        maxGapTicks = maxGap.BclCompatibleTicks;
    }

    /// <summary>Warm-hours of measured time.</summary>
    public WarmHours Measured => WarmHours.FromCelsiusHours(sum.WarmHours);

    /// <summary>Time covered by readings no further apart than the gap bound.</summary>
    public Duration MeasuredTime => Duration.FromTicks(sum.Ticks);

    /// <summary>Measured hours below the cool limit, exact to the crossing of the line.</summary>
    public double HoursBelow => sum.HoursBelow;

    /// <summary>Measured hours above the hot limit, exact to the crossing of the line.</summary>
    public double HoursAbove => sum.HoursAbove;

    /// <summary>The stretches without readings, in order of time.</summary>
    public IReadOnlyList<Interval> Gaps => gaps;

    /// <summary>The last temperature taken in, or null before the first.</summary>
    public TemperatureSample? Last =>
        started ? new(Instant.FromUnixTimeTicks(lastTicks), Temperature.FromCelsius(lastCelsius)) : null;

    /// <summary>Takes in the next temperature.</summary>
    /// <exception cref="ArgumentException">It is older than the last one. One of the same instant replaces the last.</exception>
    public void Add(Instant at, Temperature temperature) => Add(at.ToUnixTimeTicks(), temperature.Celsius);

    internal void Add(long ticks, double celsius)
    {
        if (started)
        {
            Advance(ticks, celsius);
        }

        started = true;
        lastTicks = ticks;
        lastCelsius = celsius;
    }

    private void Advance(long ticks, double celsius)
    {
        var step = ticks - lastTicks;
        if (step < 0)
        {
            throw new ArgumentException("Temperatures are added in order of time.", nameof(ticks));
        }

        if (step > maxGapTicks)
        {
            gaps.Add(new(Instant.FromUnixTimeTicks(lastTicks), Instant.FromUnixTimeTicks(ticks)));
            return;
        }

        sum.Add(step, lastCelsius, celsius);
    }
}
