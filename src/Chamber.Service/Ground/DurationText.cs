using System.Globalization;
using NodaTime;

namespace Chamber.Service.Ground;

/// <summary>Lengths of time as people write them: <c>30s</c>, <c>90min</c>, <c>2h</c>, <c>1.5d</c>, <c>2w</c>; and as they are
/// shown.</summary>
internal static class DurationText
{
    private static readonly (string Unit, double Seconds)[] Units =
    [
        ("min", 60), ("s", 1), ("m", 60), ("h", 3600), ("d", 86400), ("w", 604800),
    ];

    /// <exception cref="FormatException">No unit, no number, or not positive; the message gives the fix.</exception>
    public static Duration Parse(string text)
    {
        var trimmed = text.Trim();
        foreach (var (unit, seconds) in Units)
        {
            if (trimmed.EndsWith(unit, StringComparison.Ordinal)
                && double.TryParse(trimmed[..^unit.Length].TrimEnd(), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture,
                    out var number))
            {
                return number > 0 && number * seconds < 1e10
                    ? Duration.FromSeconds(number * seconds)
                    : throw new FormatException(
                        $"\"{text}\" is not a usable length of time: it must be longer than zero and shorter than 300 years.");
            }
        }

        throw new FormatException($"\"{text}\" is not a length of time: write a number and its unit, such as 30min, 2h or 3d.");
    }

    /// <summary>In the largest unit that keeps it readable: <c>45 s</c>, <c>20 min</c>, <c>5 h</c>, <c>2.5 days</c>.</summary>
    public static string Show(Duration duration) => duration.TotalSeconds switch
    {
        < 90 => Number(duration.TotalSeconds, "0", "s"),
        < 90 * 60 => Number(duration.TotalMinutes, "0", "min"),
        < 48 * 3600 => Number(duration.TotalHours, "0.#", "h"),
        _ => Number(duration.TotalDays, "0.#", "days"),
    };

    /// <summary>How long ago it was: <c>just now</c>, <c>20 min ago</c>.</summary>
    public static string Ago(Duration length) => length < Duration.FromSeconds(1) ? "just now" : $"{Show(length)} ago";

    /// <summary>As <see cref="Parse"/> reads it, without loss down to the millisecond.</summary>
    public static string Exact(Duration duration)
    {
        foreach (var (unit, seconds) in Units.OrderByDescending(known => known.Seconds).Where(known => known.Unit is not ("m" or "w")))
        {
            if (duration.TotalSeconds % seconds == 0)
            {
                return string.Create(CultureInfo.InvariantCulture, $"{duration.TotalSeconds / seconds:0}{unit}");
            }
        }

        return string.Create(CultureInfo.InvariantCulture, $"{duration.TotalSeconds:0.###}s");
    }

    private static string Number(double value, string format, string unit) =>
        string.Create(CultureInfo.InvariantCulture, $"{value.ToString(format, CultureInfo.InvariantCulture)} {unit}");
}
