namespace Chamber.Core.Climate.Warmth;

/// <summary>Days until half at a temperature that was tried or lies near those.</summary>
public readonly record struct HalfDaysAt(Temperature At, double Days);

/// <summary>
/// Effective warmth where days were measured at temperatures and no law joins them: given at points and straight between them, so its
/// integral is exact. It stands in for the cardinal temperatures from its first to its last point.
/// </summary>
/// <remarks>Immutable; equal when its points are.</remarks>
public sealed class TriedWarmth : IEquatable<TriedWarmth>
{
    /// <summary>Beyond the ends the four temperatures are met again over so many kelvins.</summary>
    private const double Joined = 2;

    private readonly double[] celsius;
    private readonly double[] warmth;
    private readonly double[] areas;

    /// <param name="points">°C, rising, and °C·h an hour, finite and 0 or more; two points or more.</param>
    /// <exception cref="ArgumentException">They are too few, out of order or out of range.</exception>
    public TriedWarmth(IReadOnlyList<(double Celsius, double Warmth)> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 2 || points.Any(point => !double.IsFinite(point.Warmth) || point.Warmth < 0)
            || points.Zip(points.Skip(1)).Any(pair => !(pair.First.Celsius < pair.Second.Celsius)))
        {
            throw new ArgumentException("Warmth at temperatures takes two or more, each warmer than the one before.", nameof(points));
        }

        celsius = [.. points.Select(point => point.Celsius)];
        warmth = [.. points.Select(point => point.Warmth)];
        areas = new double[celsius.Length];
        for (var i = 1; i < areas.Length; i++)
        {
            areas[i] = areas[i - 1] + (celsius[i] - celsius[i - 1]) * (warmth[i - 1] + warmth[i]) / 2;
        }

        Highest = warmth.Max();
    }

    /// <summary>The same from days, and joined to the four temperatures 2 K beyond them.</summary>
    /// <param name="days">Coolest first, two or more, each above 0.</param>
    /// <param name="half">θ50 that the warmth is to come to in that many days.</param>
    /// <param name="four">What holds beyond.</param>
    /// <exception cref="ArgumentException">They are too few, out of order or out of range.</exception>
    public static TriedWarmth Of(IReadOnlyList<HalfDaysAt> days, WarmHours half, CardinalTemperatures four)
    {
        ArgumentNullException.ThrowIfNull(days);
        (double, double)[] points = [.. days.Select(each => (each.At.Celsius, half.CelsiusDays / each.Days))];
        return new(points is [var first, .., var last] ? [Beyond(first.Item1 - Joined), .. points, Beyond(last.Item1 + Joined)] : points);

        (double, double) Beyond(double celsius) => (celsius, (four with { Tried = null }).EffectiveWarmth(celsius));
    }

    /// <summary>The first point, °C.</summary>
    internal double Low => celsius[0];

    /// <summary>The last point, °C.</summary>
    internal double High => celsius[^1];

    /// <summary>The most warmth of any point, °C·h an hour.</summary>
    internal double Highest { get; }

    /// <summary>Warmth at a temperature between the first and the last point.</summary>
    internal double At(double at)
    {
        var left = LeftOf(at);
        return warmth[left] + (warmth[left + 1] - warmth[left]) * (at - celsius[left]) / (celsius[left + 1] - celsius[left]);
    }

    /// <summary>Its integral between two temperatures, both between the first and the last point.</summary>
    internal double Area(double low, double high) => high <= low ? 0 : AreaTo(high) - AreaTo(low);

    /// <summary>The coolest temperature with so much warmth; null where no point has it.</summary>
    internal double? CoolestWith(double wanted)
    {
        var right = Array.FindIndex(warmth, each => each >= wanted);
        return right switch
        {
            < 0 => null,
            0 => Low,
            _ => celsius[right - 1]
                + (celsius[right] - celsius[right - 1]) * (wanted - warmth[right - 1]) / (warmth[right] - warmth[right - 1]),
        };
    }

    private double AreaTo(double at)
    {
        var left = LeftOf(at);
        return areas[left] + (at - celsius[left]) * (warmth[left] + At(at)) / 2;
    }

    private int LeftOf(double at)
    {
        var found = Array.BinarySearch(celsius, at);
        return Math.Clamp(found >= 0 ? found : ~found - 1, 0, celsius.Length - 2);
    }

    /// <summary>Whether the points are the same.</summary>
    public bool Equals(TriedWarmth? other) =>
        other is not null && celsius.SequenceEqual(other.celsius) && warmth.SequenceEqual(other.warmth);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as TriedWarmth);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(celsius.Length, Low, High, Highest);
}
