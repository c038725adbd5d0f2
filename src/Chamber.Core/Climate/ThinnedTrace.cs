using NodaTime;

namespace Chamber.Core.Climate;

/// <summary>
/// A trace thinned to what a screen can show: time is cut into equal parts, and of each part the coolest and the warmest reading stay,
/// in order of time. An hour that was too hot is never thinned away, and a year costs no more to send than a day.
/// </summary>
public static class ThinnedTrace
{
    /// <summary>The readings that stay.</summary>
    /// <param name="trace">The trace.</param>
    /// <param name="when">What is cut into parts; with a start and an end.</param>
    /// <param name="parts">Into how many, at least 1.</param>
    /// <returns>For each stretch the readings that stay, in order of time.</returns>
    public static IReadOnlyList<IReadOnlyList<TemperatureSample>> Of(TemperatureTrace trace, Interval when, int parts)
    {
        ArgumentNullException.ThrowIfNull(trace);
        ArgumentOutOfRangeException.ThrowIfLessThan(parts, 1);
        var origin = when.Start.ToUnixTimeTicks();
        var width = (when.End.ToUnixTimeTicks() - origin) / parts + 1;
        return [.. trace.Stretches.Select(stretch => Thin(stretch.Ticks, stretch.Celsius, origin, width))];
    }

    private static List<TemperatureSample> Thin(ReadOnlySpan<long> ticks, ReadOnlySpan<double> celsius, long origin, long width)
    {
        List<TemperatureSample> kept = [];
        for (var start = 0; start < ticks.Length;)
        {
            var (end, low, high) = (PartEnd(ticks[start], origin, width), start, start);
            var next = start + 1;
            for (; next < ticks.Length && ticks[next] < end; next++)
            {
                low = celsius[next] < celsius[low] ? next : low;
                high = celsius[next] > celsius[high] ? next : high;
            }

            kept.Add(Sample(ticks, celsius, Math.Min(low, high)));
            if (low != high)
            {
                kept.Add(Sample(ticks, celsius, Math.Max(low, high)));
            }

            start = next;
        }

        return kept;
    }

    // Parts before the origin count backwards, so that division must round down.
    private static long PartEnd(long at, long origin, long width) => origin + (Math.DivRem(at - origin, width) is var (whole, rest) && rest < 0 ? whole : whole + 1) * width;

    private static TemperatureSample Sample(ReadOnlySpan<long> ticks, ReadOnlySpan<double> celsius, int index) =>
        new(Instant.FromUnixTimeTicks(ticks[index]), Temperature.FromCelsius(celsius[index]));
}
