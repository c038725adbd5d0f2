namespace Chamber.Core.Climate;

/// <summary>
/// The four temperatures that shape a crop's response: base Tb, optimum plateau To1 to To2, ceiling Tc, with Tb &lt; To1 ≤ To2 &lt; Tc.
/// Effective warmth E(T) is 0 up to Tb, rises as T - Tb to the plateau, stays at To1 - Tb, and falls linearly to 0 at Tc
/// (the dent-like cardinal-temperature model; the rising limb is thermal time after Garcia-Huidobro, Monteith &amp; Squire 1982).
/// The default value is not usable.
/// </summary>
public readonly record struct CardinalTemperatures
{
    /// <exception cref="ArgumentException">The four are out of order.</exception>
    public CardinalTemperatures(Temperature @base, Temperature optimumLow, Temperature optimumHigh, Temperature ceiling)
    {
        if (!(@base < optimumLow && optimumLow <= optimumHigh && optimumHigh < ceiling))
        {
            throw new ArgumentException($"Cardinal temperatures must rise: base {@base} < optimum {optimumLow} ≤ {optimumHigh} < ceiling {ceiling}.");
        }

        Base = @base;
        OptimumLow = optimumLow;
        OptimumHigh = optimumHigh;
        Ceiling = ceiling;
    }

    /// <summary>Tb: no progress at or below it.</summary>
    public Temperature Base { get; }

    /// <summary>To1: the coolest of the fastest temperatures.</summary>
    public Temperature OptimumLow { get; }

    /// <summary>To2: the warmest of the fastest temperatures.</summary>
    public Temperature OptimumHigh { get; }

    /// <summary>Tc: no progress at or above it.</summary>
    public Temperature Ceiling { get; }

    /// <summary>The fastest progress that the crop knows, in °C·h an hour.</summary>
    public double BestWarmth => OptimumLow.Celsius - Base.Celsius;

    /// <summary>E(T), in °C·h an hour.</summary>
    public double EffectiveWarmth(Temperature temperature) => EffectiveWarmth(temperature.Celsius);

    /// <summary>
    /// The exact mean of E over a straight line from one temperature to another, in °C·h an hour: times the hours that
    /// the line takes, the warm-hours of that stretch. The line is split at the cardinal temperatures, between which E is linear.
    /// </summary>
    public double MeanEffectiveWarmth(Temperature from, Temperature to) => MeanEffectiveWarmth(from.Celsius, to.Celsius);

    internal double EffectiveWarmth(double celsius)
    {
        if (celsius <= Base.Celsius || celsius >= Ceiling.Celsius)
        {
            return 0;
        }

        if (celsius < OptimumLow.Celsius)
        {
            return celsius - Base.Celsius;
        }

        return celsius <= OptimumHigh.Celsius
            ? BestWarmth
            : BestWarmth * (Ceiling.Celsius - celsius) / (Ceiling.Celsius - OptimumHigh.Celsius);
    }

    internal double MeanEffectiveWarmth(double from, double to)
    {
        var low = Math.Min(from, to);
        var high = Math.Max(from, to);

        // Nearly every minute-to-minute step stays within the rising limb or the plateau, where no split is needed.
        if (low >= Base.Celsius && high <= OptimumLow.Celsius)
        {
            return (low + high) / 2 - Base.Celsius;
        }

        if (low >= OptimumLow.Celsius && high <= OptimumHigh.Celsius)
        {
            return BestWarmth;
        }

        var span = high - low;
        return span == 0 ? EffectiveWarmth(low) : AreaBetween(low, high) / span;
    }

    private double AreaBetween(double low, double high) =>
        Trapezium(Math.Max(low, Base.Celsius), Math.Min(high, OptimumLow.Celsius))
        + Trapezium(Math.Max(low, OptimumLow.Celsius), Math.Min(high, OptimumHigh.Celsius))
        + Trapezium(Math.Max(low, OptimumHigh.Celsius), Math.Min(high, Ceiling.Celsius));

    private double Trapezium(double low, double high) =>
        high <= low ? 0 : (high - low) * (EffectiveWarmth(low) + EffectiveWarmth(high)) / 2;
}
