using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Web.Series;

/// <summary>
/// A temperature thinned to what a screen can show: time is cut into equal parts and of each part the coolest and the warmest
/// reading stay, in order of time. An hour that was too hot is never thinned away, and a year costs no more to send than a day.
/// </summary>
internal static class TemperatureSeries
{
    public const int PointsUnlessTold = 1000;
    public const int PointsMax = 10_000;

    /// <param name="trace">The temperature.</param>
    /// <param name="when">From when to when.</param>
    /// <param name="points">About how many points at most, gaps not counted.</param>
    public static SeriesAnswer Of(TemperatureTrace trace, Interval when, int points)
    {
        var parts = Math.Max(1, points / 2);
        var width = Math.Max(1, (long)(when.Duration.TotalMilliseconds / parts) + 1);
        var origin = when.Start.ToUnixTimeMilliseconds();
        List<double?[]> kept = [];
        var read = 0;
        foreach (var stretch in trace.Stretches)
        {
            if (kept.Count > 0)
            {
                // A point without a value between two stretches is drawn as the gap that it is.
                kept.Add([stretch.Start.ToUnixTimeMilliseconds(), null]);
            }

            read += Thin(stretch, origin, width, kept);
        }

        return new(when.Start, when.End, read, kept);
    }

    private static int Thin(TemperatureStretch stretch, long origin, long width, List<double?[]> kept)
    {
        var part = new Part();
        var current = long.MinValue;
        var read = 0;
        foreach (var sample in stretch.Samples)
        {
            var at = sample.At.ToUnixTimeMilliseconds();
            var index = (at - origin) / width;
            if (index != current)
            {
                part.AddTo(kept);
                part = new();
                current = index;
            }

            part.Take(at, sample.Temperature.Celsius);
            read++;
        }

        part.AddTo(kept);
        return read;
    }

    /// <summary>The coolest and the warmest of one part of the time.</summary>
    private record struct Part
    {
        private bool any;
        private (long At, double Celsius) low;
        private (long At, double Celsius) high;

        public void Take(long at, double celsius)
        {
            if (!any || celsius < low.Celsius)
            {
                low = (at, celsius);
            }

            if (!any || celsius > high.Celsius)
            {
                high = (at, celsius);
            }

            any = true;
        }

        public readonly void AddTo(List<double?[]> kept)
        {
            if (!any)
            {
                return;
            }

            var (first, second) = low.At <= high.At ? (low, high) : (high, low);
            kept.Add([first.At, Math.Round(first.Celsius, 2)]);
            if (second.At != first.At)
            {
                kept.Add([second.At, Math.Round(second.Celsius, 2)]);
            }
        }
    }
}

/// <summary>A temperature over time, thinned on the server.</summary>
/// <param name="From">From when.</param>
/// <param name="To">To when.</param>
/// <param name="Readings">How many readings lie behind it.</param>
/// <param name="Points">[milliseconds since 1970, °C], in order of time; null instead of a temperature is a gap.</param>
internal sealed record SeriesAnswer(Instant From, Instant To, int Readings, IReadOnlyList<double?[]> Points);
