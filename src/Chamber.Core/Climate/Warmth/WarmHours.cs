namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// Accumulated thermal time above a crop's base temperature, in degree-hours (°C·h; as a unit of difference, K·h).
/// Equality and order are those of the number. The default value is none.
/// </summary>
public readonly record struct WarmHours : IComparable<WarmHours>
{
    private WarmHours(double celsiusHours) => CelsiusHours = celsiusHours;

    /// <summary>Degree-hours, finite and at least 0.</summary>
    public double CelsiusHours { get; }

    /// <summary>The same in degree-days, as handbooks print it.</summary>
    public double CelsiusDays => CelsiusHours / 24;

    /// <exception cref="ArgumentOutOfRangeException">The number is negative or not finite.</exception>
    public static WarmHours FromCelsiusHours(double celsiusHours) =>
        celsiusHours >= 0 && double.IsFinite(celsiusHours)
            ? new(celsiusHours)
            : throw new ArgumentOutOfRangeException(nameof(celsiusHours), celsiusHours,
                "Warm-hours are a finite number of at least 0 °C·h.");

    /// <exception cref="ArgumentOutOfRangeException">The number is negative or not finite.</exception>
    public static WarmHours FromCelsiusDays(double celsiusDays) => FromCelsiusHours(celsiusDays * 24);

    public static WarmHours operator +(WarmHours left, WarmHours right) => FromCelsiusHours(left.CelsiusHours + right.CelsiusHours);

    public static bool operator <(WarmHours left, WarmHours right) => left.CelsiusHours < right.CelsiusHours;

    public static bool operator >(WarmHours left, WarmHours right) => left.CelsiusHours > right.CelsiusHours;

    public static bool operator <=(WarmHours left, WarmHours right) => left.CelsiusHours <= right.CelsiusHours;

    public static bool operator >=(WarmHours left, WarmHours right) => left.CelsiusHours >= right.CelsiusHours;

    public int CompareTo(WarmHours other) => CelsiusHours.CompareTo(other.CelsiusHours);

    /// <summary>Whole degree-hours, for logs and messages: <c>1920 °C·h</c>.</summary>
    public override string ToString() => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{CelsiusHours:0} °C·h");
}
