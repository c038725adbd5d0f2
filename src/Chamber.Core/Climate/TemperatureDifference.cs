namespace Chamber.Core.Climate;

/// <summary>
/// How much warmer one temperature is than another, in kelvins (the same size as a degree Celsius).
/// It is a separate type because 10 °F of difference is 5.6 K while 10 °F on the scale is -12.2 °C.
/// Equality and order are those of the number. The default value is no difference.
/// </summary>
public readonly record struct TemperatureDifference : IComparable<TemperatureDifference>
{
    private TemperatureDifference(double kelvins) => Kelvins = kelvins;

    /// <summary>Kelvins; negative when colder. Finite.</summary>
    public double Kelvins { get; }

    /// <summary>Fahrenheit degrees of difference.</summary>
    public double FahrenheitDegrees => Kelvins * 9 / 5;

    /// <exception cref="ArgumentOutOfRangeException">The number is not finite.</exception>
    public static TemperatureDifference FromKelvins(double kelvins) =>
        double.IsFinite(kelvins)
            ? new(kelvins)
            : throw new ArgumentOutOfRangeException(nameof(kelvins), kelvins, "A temperature difference is a finite number of kelvins.");

    public static TemperatureDifference operator +(TemperatureDifference left, TemperatureDifference right) =>
        FromKelvins(left.Kelvins + right.Kelvins);

    public static TemperatureDifference operator -(TemperatureDifference left, TemperatureDifference right) =>
        FromKelvins(left.Kelvins - right.Kelvins);

    public static TemperatureDifference operator -(TemperatureDifference value) => FromKelvins(-value.Kelvins);

    public static bool operator <(TemperatureDifference left, TemperatureDifference right) => left.Kelvins < right.Kelvins;

    public static bool operator >(TemperatureDifference left, TemperatureDifference right) => left.Kelvins > right.Kelvins;

    public static bool operator <=(TemperatureDifference left, TemperatureDifference right) => left.Kelvins <= right.Kelvins;

    public static bool operator >=(TemperatureDifference left, TemperatureDifference right) => left.Kelvins >= right.Kelvins;

    public int CompareTo(TemperatureDifference other) => Kelvins.CompareTo(other.Kelvins);
}
