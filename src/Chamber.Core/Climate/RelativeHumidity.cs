namespace Chamber.Core.Climate;

/// <summary>
/// Water vapour in the air as a percent of saturation at the same temperature.
/// Equality and order are those of the number. The default value is 0 %.
/// </summary>
public readonly record struct RelativeHumidity : IComparable<RelativeHumidity>
{
    private RelativeHumidity(double percent) => Percent = percent;

    /// <summary>0 to 100 %.</summary>
    public double Percent { get; }

    /// <summary>0 to 1.</summary>
    public double Ratio => Percent / 100;

    /// <exception cref="ArgumentOutOfRangeException">The number lies outside 0 to 100.</exception>
    public static RelativeHumidity FromPercent(double percent) =>
        percent is >= 0 and <= 100
            ? new(percent)
            : throw new ArgumentOutOfRangeException(nameof(percent), percent, "Relative humidity lies between 0 and 100 %.");

    public static bool operator <(RelativeHumidity left, RelativeHumidity right) => left.Percent < right.Percent;

    public static bool operator >(RelativeHumidity left, RelativeHumidity right) => left.Percent > right.Percent;

    public static bool operator <=(RelativeHumidity left, RelativeHumidity right) => left.Percent <= right.Percent;

    public static bool operator >=(RelativeHumidity left, RelativeHumidity right) => left.Percent >= right.Percent;

    public int CompareTo(RelativeHumidity other) => Percent.CompareTo(other.Percent);

    public override string ToString() => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{Percent:0} %");
}
