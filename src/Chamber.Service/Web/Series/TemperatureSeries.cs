using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Web.Series;

/// <summary>A temperature over time as charts and programs take it: thinned on the server (<see cref="ThinnedTrace"/>), with its gaps.</summary>
internal static class TemperatureSeries
{
    public const int PointsUnlessTold = 1000;
    public const int PointsMax = 10_000;

    /// <param name="trace">The temperature.</param>
    /// <param name="when">From when to when.</param>
    /// <param name="points">About how many points at most, gaps not counted.</param>
    public static SeriesAnswer Of(TemperatureTrace trace, Interval when, int points)
    {
        List<double?[]> kept = [];
        foreach (var stretch in ThinnedTrace.Of(trace, when, Math.Max(1, points / 2)))
        {
            if (kept.Count > 0)
            {
                // A point without a value between two stretches is drawn as the gap that it is.
                kept.Add([stretch[0].At.ToUnixTimeMilliseconds(), null]);
            }

            kept.AddRange(stretch.Select(sample => new double?[] { sample.At.ToUnixTimeMilliseconds(), Math.Round(sample.Temperature.Celsius, 2) }));
        }

        return new(when.Start, when.End, trace.Stretches.Sum(stretch => stretch.Count), kept);
    }
}

/// <summary>A temperature over time, thinned on the server.</summary>
/// <param name="From">From when.</param>
/// <param name="To">To when.</param>
/// <param name="Readings">How many readings lie behind it.</param>
/// <param name="Points">[milliseconds since 1970, °C], in order of time; null instead of a temperature is a gap.</param>
internal sealed record SeriesAnswer(Instant From, Instant To, int Readings, IReadOnlyList<double?[]> Points);
