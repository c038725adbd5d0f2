using Chamber.Core.Climate;
using NodaTime;

namespace Chamber.Service.Web.Views;

/// <summary>A temperature over time as charts and programs take it: thinned on the server (<see cref="ThinnedTrace"/>), with its
/// gaps.</summary>
internal static class TemperatureSeries
{
    public const int DefaultPoints = 1000;

    /// <summary>Into how many parts time is cut for so many points: of each part two stay.</summary>
    public static int Parts(int points) => Math.Max(1, points / 2);

    /// <param name="trace">The temperature.</param>
    /// <param name="when">From when to when.</param>
    public static SeriesAnswer Of(ThinnedTrace trace, Interval when)
    {
        List<double?[]> kept = [];
        foreach (var stretch in trace.Stretches)
        {
            if (kept.Count > 0)
            {
                // A point without a value between two stretches is drawn as the gap that it is.
                kept.Add([stretch[0].At.ToUnixTimeMilliseconds(), null]);
            }

            kept.AddRange(
                stretch.Select(sample => new double?[] { sample.At.ToUnixTimeMilliseconds(), Math.Round(sample.Temperature.Celsius, 2) }));
        }

        return new(when.Start, when.End, trace.Readings, kept);
    }
}

/// <summary>A temperature over time, thinned on the server.</summary>
/// <param name="From">From when.</param>
/// <param name="To">To when.</param>
/// <param name="Readings">How many readings lie behind it.</param>
/// <param name="Points">[milliseconds since 1970, °C], in order of time; null instead of a temperature is a gap.</param>
internal sealed record SeriesAnswer(Instant From, Instant To, int Readings, IReadOnlyList<double?[]> Points);
