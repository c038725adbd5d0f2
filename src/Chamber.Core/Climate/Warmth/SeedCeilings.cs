using MathNet.Numerics;

namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// Seeds of one crop differ in the temperature above which they make no progress, their ceiling: normally distributed over the seeds, each
/// slowed over the last kelvins below its own (R.H. Ellis and P.D. Butcher, J. Exp. Bot. 39 (1988) 935-950, for onion). In heat the seeds
/// of low ceilings drop out and the others slow down, so one distribution gives slower, fewer and none.
/// </summary>
/// <remarks>Immutable; equal when its three numbers are. The pace is straight between steps of 0.2 K, so its integral is exact.</remarks>
public sealed class SeedCeilings : IEquatable<SeedCeilings>
{
    /// <summary>Beyond this many standard deviations above the middle, under one seed in a hundred and sixty is left: none.</summary>
    private const double Reach = 2.5;

    /// <summary>With a first step at a tenth, a survey's steps of 0.1 °C never hold a corner of the pace inside.</summary>
    private const double Step = 0.2;
    private const double PerKelvin = 5;

    private const double Least = 0.25;

    private readonly double start;
    private readonly double[] paces;
    private readonly double[] slopes;
    private readonly double[] areas;

    /// <param name="median">The middle ceiling.</param>
    /// <param name="spreadKelvins">Standard deviation of the seeds' ceilings, K; 0.25 to 15.</param>
    /// <param name="fallKelvins">Over how many kelvins below its ceiling a seed slows down, straight; 0.25 to 15 K.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number lies outside its range.</exception>
    public SeedCeilings(Temperature median, double spreadKelvins, double fallKelvins)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(spreadKelvins, Least);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(spreadKelvins, 15);
        ArgumentOutOfRangeException.ThrowIfLessThan(fallKelvins, Least);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(fallKelvins, 15);
        Median = median;
        SpreadKelvins = spreadKelvins;
        FallKelvins = fallKelvins;
        Highest = Temperature.FromCelsius(Math.Round(median.Celsius + Reach * spreadKelvins, 1));
        start = Math.Floor(10 * (median.Celsius - fallKelvins)) / 10;
        while (start + Step < Highest.Celsius && Pace(start + Step) >= 1)
        {
            start += Step;
        }

        // The last step ends at the highest ceiling, where nothing is left.
        var steps = (int)Math.Ceiling((Highest.Celsius - start) / Step - 1e-9);
        paces = new double[steps + 1];
        areas = new double[steps + 1];
        slopes = new double[steps + 1];
        paces[0] = 1;
        for (var i = 1; i <= steps; i++)
        {
            paces[i] = i == steps ? 0 : Pace(start + i * Step);
            areas[i] = areas[i - 1] + (NodeAt(i) - NodeAt(i - 1)) * (paces[i - 1] + paces[i]) / 2;
            slopes[i - 1] = (paces[i] - paces[i - 1]) / (NodeAt(i) - NodeAt(i - 1));
        }
    }

    /// <summary>The middle ceiling.</summary>
    public Temperature Median { get; }

    /// <summary>Standard deviation of the seeds' ceilings, K.</summary>
    public double SpreadKelvins { get; }

    /// <summary>Over how many kelvins below its ceiling a seed slows down, K.</summary>
    public double FallKelvins { get; }

    /// <summary>Up to here the middle one of the seeds that still come up is as fast as at its best.</summary>
    public Temperature FastestTo => Temperature.FromCelsius(Math.Round(start, 2));

    /// <summary>At and above this no seed is left.</summary>
    public Temperature Highest { get; }

    /// <summary>The share of seeds whose ceiling lies above a temperature, 0 to 1.</summary>
    public double ShareAbove(Temperature temperature) =>
        temperature >= Highest ? 0 : Above(temperature.Celsius, Median.Celsius, SpreadKelvins);

    /// <summary>The pace of the middle one of the seeds whose ceiling lies above a temperature, against the best; 0 to 1.</summary>
    internal double PaceAt(double celsius)
    {
        if (celsius <= start)
        {
            return 1;
        }

        if (celsius >= Highest.Celsius)
        {
            return 0;
        }

        var left = (int)((celsius - start) * PerKelvin);
        return paces[left] + slopes[left] * (celsius - start - left * Step);
    }

    /// <summary>The mean of the pace over a straight line between two temperatures, the cooler one first.</summary>
    internal double PaceMean(double low, double high)
    {
        // Nearly every line from minute to minute lies within one step, where the pace is straight.
        if (low > start && high < Highest.Celsius
            && (int)((low - start) * PerKelvin) == (int)((high - start) * PerKelvin))
        {
            return PaceAt((low + high) / 2);
        }

        return high == low ? PaceAt(low) : PaceArea(low, high) / (high - low);
    }

    /// <summary>The integral of the pace between two temperatures, °C.</summary>
    internal double PaceArea(double low, double high) => high <= low ? 0 : AreaTo(high) - AreaTo(low);

    private double AreaTo(double celsius)
    {
        if (celsius <= start)
        {
            return celsius - start;
        }

        if (celsius >= Highest.Celsius)
        {
            return areas[^1];
        }

        var left = (int)((celsius - start) * PerKelvin);
        var along = celsius - start - left * Step;
        return areas[left] + along * (paces[left] + slopes[left] / 2 * along);
    }

    private double NodeAt(int i) => Math.Min(start + i * Step, Highest.Celsius);

    private double Pace(double celsius) => Pace(celsius, Median.Celsius, SpreadKelvins, FallKelvins);

    /// <summary>The share of seeds whose ceiling lies above a temperature; all in °C and K.</summary>
    internal static double Above(double celsius, double median, double spread) =>
        0.5 * SpecialFunctions.Erfc((celsius - median) / spread / Constants.Sqrt2);

    /// <summary>The pace of the middle one of those seeds; all in °C and K.</summary>
    internal static double Pace(double celsius, double median, double spread, double fall)
    {
        // Half of the seeds that are left have a ceiling above this many deviations over the middle.
        var middle = Constants.Sqrt2 * SpecialFunctions.ErfcInv(Above(celsius, median, spread));
        return Math.Clamp((median + spread * middle - celsius) / fall, 0, 1);
    }

    /// <summary>Whether the three numbers are the same.</summary>
    public bool Equals(SeedCeilings? other) =>
        other is not null && Median == other.Median && SpreadKelvins == other.SpreadKelvins && FallKelvins == other.FallKelvins;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as SeedCeilings);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Median, SpreadKelvins, FallKelvins);
}
