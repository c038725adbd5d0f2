namespace Chamber.Core.Climate;

/// <summary>
/// A point on the temperature scale, held in degrees Celsius.
/// Equality and order are those of the Celsius number. The default value is 0 °C.
/// </summary>
public readonly record struct Temperature : IComparable<Temperature>
{
    /// <summary>Absolute zero, -273.15 °C: nothing colder can be constructed.</summary>
    public const double AbsoluteZeroCelsius = -273.15;

    private Temperature(double celsius) => Celsius = celsius;

    /// <summary>Degrees Celsius, finite and at least <see cref="AbsoluteZeroCelsius"/>.</summary>
    public double Celsius { get; }

    /// <summary>Degrees Fahrenheit.</summary>
    public double Fahrenheit => Celsius * 9 / 5 + 32;

    /// <param name="celsius">Degrees Celsius.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite, or lies below absolute zero.</exception>
    public static Temperature FromCelsius(double celsius) =>
        celsius >= AbsoluteZeroCelsius && double.IsFinite(celsius)
            ? new(celsius)
            : throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "A temperature is a finite number of at least -273.15 °C.");

    /// <param name="fahrenheit">Degrees Fahrenheit.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite, or lies below absolute zero.</exception>
    public static Temperature FromFahrenheit(double fahrenheit) => FromCelsius((fahrenheit - 32) * 5 / 9);

    public static TemperatureDifference operator -(Temperature left, Temperature right) =>
        TemperatureDifference.FromKelvins(left.Celsius - right.Celsius);

    public static Temperature operator +(Temperature left, TemperatureDifference right) => FromCelsius(left.Celsius + right.Kelvins);

    public static Temperature operator -(Temperature left, TemperatureDifference right) => FromCelsius(left.Celsius - right.Kelvins);

    public static bool operator <(Temperature left, Temperature right) => left.Celsius < right.Celsius;

    public static bool operator >(Temperature left, Temperature right) => left.Celsius > right.Celsius;

    public static bool operator <=(Temperature left, Temperature right) => left.Celsius <= right.Celsius;

    public static bool operator >=(Temperature left, Temperature right) => left.Celsius >= right.Celsius;

    public int CompareTo(Temperature other) => Celsius.CompareTo(other.Celsius);

    /// <summary>Degrees Celsius to one decimal, for logs and messages: <c>21.5 °C</c>.</summary>
    public override string ToString() => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Celsius:0.0} °C");
}
