using System.Globalization;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace Chamber.Core.Climate;

/// <summary>An offset with how well it is known.</summary>
/// <param name="Offset">To be added to the probe's temperature.</param>
/// <param name="Uncertainty">Half of the 95 % interval, K.</param>
/// <param name="Values">How many hours or readings it rests on.</param>
public sealed record OffsetFound(TemperatureDifference Offset, TemperatureDifference Uncertainty, int Values);

/// <summary>What a calibration came to: an offset, or the reason why none can be found, with the fix.</summary>
/// <param name="Found">The offset; null when none can be found.</param>
/// <param name="Refusal">Why not; empty when there is one.</param>
public sealed record OffsetAnswer(OffsetFound? Found, string Refusal)
{
    internal static OffsetAnswer No(string why) => new(null, why);
}

/// <summary>Finds a probe's temperature offset. The bounds are common practice, no source.</summary>
public static class OffsetCalibration
{
    /// <summary>Fewer whole hours side by side tell too little.</summary>
    public const int HoursMin = 6;

    /// <summary>Fewer readings in ice water tell too little.</summary>
    public const int IceReadingsMin = 5;

    private const double WholeHour = 0.75;
    private const double MovedMax = 0.5;
    private const double ApartMax = 5;
    private const double UncertaintyMax = 0.5;
    private const double IceMinutesMin = 10;
    private const double IceSettledWithin = 0.5;

    /// <summary>A kitchen's ice and water is at 0 °C to this, K. Common practice, no source.</summary>
    private const double IceWithin = 0.1;

    /// <summary>
    /// From hours side by side with a trusted probe. The interval is that of a mean of correlated values: the number of hours is
    /// reduced to n (1 - r) / (1 + r) with the correlation r of neighbouring hours (F. W. Zwiers and H. von Storch, "Taking serial
    /// correlation into account in tests of the mean", 1995, eq. 4-6; from memory). How well the trusted probe is known comes on top.
    /// </summary>
    /// <param name="probe">Hourly means of the probe, without any offset.</param>
    /// <param name="trusted">Hourly means of the trusted one, with its own offset.</param>
    public static OffsetAnswer SideBySide(IReadOnlyList<HourlyMean> probe, IReadOnlyList<HourlyMean> trusted)
    {
        ArgumentNullException.ThrowIfNull(probe);
        ArgumentNullException.ThrowIfNull(trusted);
        var others = trusted.Where(IsWhole).ToDictionary(hour => (hour.Date, hour.Hour));
        var differences = probe.Where(IsWhole).OrderBy(hour => hour.Start)
            .Where(hour => others.ContainsKey((hour.Date, hour.Hour)))
            .Select(hour => hour.Mean.Celsius - others[(hour.Date, hour.Hour)].Mean.Celsius).ToArray();
        if (differences.Length < HoursMin)
        {
            return OffsetAnswer.No(
                string.Create(CultureInfo.InvariantCulture,
                $"Only {differences.Length} whole hours were measured by both; leave them side by side for a night, at least "
                    + $"{HoursMin} hours."));
        }

        var moved = differences[(differences.Length / 2)..].Mean() - differences[..(differences.Length / 2)].Mean();
        var mean = differences.Mean();
        return Math.Abs(moved) > MovedMax
            ? OffsetAnswer.No(
                string.Create(CultureInfo.InvariantCulture,
                $"Their difference moved by {Math.Abs(moved):0.0} K meanwhile, so it is no fixed offset: put both into one closed box, "
                + $"away from heat and draught, and let them settle."))
            : Math.Abs(mean) > ApartMax
                ? OffsetAnswer.No(string.Create(CultureInfo.InvariantCulture,
                    $"They are {Math.Abs(mean):0.0} K apart: they were not side by side, or one of them is broken."))
                : Found(differences, mean);
    }

    /// <summary>From readings in ice and water, which is at 0 °C.</summary>
    /// <param name="samples">Temperatures without any offset, from when it had settled.</param>
    public static OffsetAnswer IceWater(IReadOnlyList<TemperatureSample> samples)
    {
        ArgumentNullException.ThrowIfNull(samples);
        var celsius = samples.Select(sample => sample.Temperature.Celsius).ToArray();
        if (celsius.Length < IceReadingsMin
            || (samples.Max(sample => sample.At) - samples.Min(sample => sample.At)).TotalMinutes < IceMinutesMin)
        {
            return OffsetAnswer.No(string.Create(CultureInfo.InvariantCulture,
                $"There are {celsius.Length} readings in that time; {IceReadingsMin} over at least {IceMinutesMin:0} minutes are needed."));
        }

        var mean = celsius.Mean();
        if (Math.Abs(mean) > ApartMax)
        {
            return OffsetAnswer.No(
                string.Create(CultureInfo.InvariantCulture,
                $"It reads {mean:0.0} °C on average, which is not ice water with any usual probe: use plenty of crushed ice with a little "
                + $"water, stir, and keep the tip off the bottom."));
        }

        if (celsius.Max() - celsius.Min() > IceSettledWithin)
        {
            return OffsetAnswer.No(
                string.Create(CultureInfo.InvariantCulture,
                $"It still moved by {celsius.Max() - celsius.Min():0.0} K: stir, wait until it settles, and name that time with --from."));
        }

        var spread = HalfInterval(celsius, celsius.Length);
        return new(new(TemperatureDifference.FromKelvins(-mean),
            TemperatureDifference.FromKelvins(Math.Sqrt(spread * spread + IceWithin * IceWithin)), celsius.Length), "");
    }

    private static OffsetAnswer Found(double[] differences, double mean)
    {
        var correlation = Math.Clamp(Correlation(differences, mean), 0, 0.95);
        var half = HalfInterval(differences, Math.Max(2, differences.Length * (1 - correlation) / (1 + correlation)));
        return half > UncertaintyMax
            ? OffsetAnswer.No(string.Create(CultureInfo.InvariantCulture,
                $"Their difference is too uneven: it is known to {half:0.0} K only. Leave them together in one closed box for longer."))
            : new(new(TemperatureDifference.FromKelvins(-mean), TemperatureDifference.FromKelvins(half), differences.Length), "");
    }

    private static double HalfInterval(double[] values, double independent) =>
        StudentT.InvCDF(0, 1, independent - 1, 0.975) * values.StandardDeviation() / Math.Sqrt(independent);

    private static double Correlation(double[] values, double mean)
    {
        var squares = values.Sum(value => (value - mean) * (value - mean));
        return squares < 1e-12 ? 0 : values.Zip(values.Skip(1), (one, next) => (one - mean) * (next - mean)).Sum() / squares;
    }

    private static bool IsWhole(HourlyMean hour) => hour.MeasuredHours >= WholeHour;
}
