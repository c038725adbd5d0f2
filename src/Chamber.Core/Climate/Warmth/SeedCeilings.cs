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

    /// <summary>On a line shorter than this, in steps, the difference of two areas loses digits, and the mean of its ends is as exact:
    /// either is right within 1e-7.</summary>
    private const double Narrow = 1e-5;

    private const double Least = 0.25;

    private readonly double start;
    private readonly double end;
    private readonly Knot[] knots;

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
        end = Highest.Celsius;
        start = Math.Floor(10 * (median.Celsius - fallKelvins)) / 10;
        while (start + Step < Highest.Celsius && Pace(start + Step) >= 1)
        {
            start += Step;
        }

        // The last step ends at the highest ceiling, where nothing is left.
        var steps = (int)Math.Ceiling((end - start) / Step - 1e-9);
        knots = new Knot[steps + 1];
        var (pace, area) = (1.0, 0.0);
        for (var i = 0; i < steps; i++)
        {
            var next = i + 1 == steps ? 0 : Pace(start + (i + 1) * Step);
            var width = Math.Min((i + 1) * Step, end - start) * PerKelvin - i;
            knots[i] = Knot.Of(i, area, pace, (next - pace) / width);
            area += width * (pace + next) / 2;
            pace = next;
        }

        knots[steps] = new(area, 0, 0);
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

        if (celsius >= end)
        {
            return 0;
        }

        var at = (celsius - start) * PerKelvin;
        return knots[(int)at].Pace(at);
    }

    /// <summary>The mean of the pace over a straight line between two temperatures, the cooler one first.</summary>
    internal double PaceMean(double low, double high)
    {
        if (low <= start || high >= end)
        {
            return high == low ? PaceAt(low) : PaceArea(low, high) / (high - low);
        }

        var (from, to) = ((low - start) * PerKelvin, (high - start) * PerKelvin);
        ref readonly var cool = ref knots[(int)from];
        ref readonly var warm = ref knots[(int)to];
        return to - from < Narrow ? (cool.Pace(from) + warm.Pace(to)) / 2 : (warm.Area(to) - cool.Area(from)) / (to - from);
    }

    /// <summary>The integral of the pace between two temperatures, °C.</summary>
    internal double PaceArea(double low, double high) => high <= low ? 0 : AreaTo(high) - AreaTo(low);

    private double AreaTo(double celsius)
    {
        if (celsius <= start)
        {
            return celsius - start;
        }

        if (celsius >= end)
        {
            return knots[^1].Area(knots.Length - 1) * Step;
        }

        var at = (celsius - start) * PerKelvin;
        return knots[(int)at].Area(at) * Step;
    }

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

    /// <summary>One step of the pace, straight, and of its integral, a square; both of the place u on the whole line, in steps.</summary>
    private readonly record struct Knot(double C0, double C1, double C2)
    {
        /// <param name="u">Where the step begins.</param>
        /// <param name="area">The area up to there.</param>
        /// <param name="pace">The pace there.</param>
        /// <param name="slope">How it changes over a step.</param>
        public static Knot Of(int u, double area, double pace, double slope) =>
            new(area - u * (pace - u * slope / 2), pace - u * slope, slope / 2);

        public double Pace(double u) => C1 + 2 * C2 * u;

        public double Area(double u) => C0 + u * (C1 + u * C2);
    }
}
