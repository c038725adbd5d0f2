namespace Chamber.Core.Climate.Warmth;

/// <summary>
/// The four temperatures that shape a crop's response: base Tb, optimum plateau To1 to To2, ceiling Tc, with Tb &lt; To1 ≤ To2 &lt; Tc.
/// Effective warmth E(T) rises as T - Tb to the plateau, stays there, and falls to 0 at Tc: linearly, or as the seeds' ceilings have it
/// (the dent-like cardinal-temperature model; the rising limb is thermal time after Garcia-Huidobro, Monteith &amp; Squire 1982).
/// The cold end is no wall: within a foot w either side of Tb the line bends, E = (T - Tb + w)²/(4w), and reaches 0 at Tb - w; without a
/// foot it is a corner at Tb. The default value is not usable.
/// </summary>
public readonly record struct CardinalTemperatures
{
    /// <summary>
    /// The foot of every shipped crop, K. Of feet of 5 to 11 K it does best on the 13 cells of the 1954 table below 10 °C when curves are
    /// fitted to the warmer ones alone: 10 of 13 within a quarter, where a corner has 4, with the warm cells no worse (ColdEndTests prints
    /// the table).
    /// </summary>
    public const double UsualFootKelvins = 9;

    /// <summary>Made once, since every reading asks for them: the warmth of the plateau, and 1/(12 w).</summary>
    private readonly double plateau;
    private readonly double footShare;

    /// <param name="base">Tb.</param>
    /// <param name="optimumLow">To1.</param>
    /// <param name="optimumHigh">To2.</param>
    /// <param name="ceiling">Tc.</param>
    /// <param name="footKelvins">w, 0 or more; 0 is a corner, as published thermal times take it.</param>
    /// <exception cref="ArgumentException">The four are out of order, or the foot is below 0.</exception>
    public CardinalTemperatures(Temperature @base, Temperature optimumLow, Temperature optimumHigh, Temperature ceiling,
        double footKelvins = 0)
    {
        if (!(footKelvins >= 0))
        {
            throw new ArgumentException($"A foot is 0 K or more; {footKelvins} is not.", nameof(footKelvins));
        }

        if (!(@base < optimumLow && optimumLow <= optimumHigh && optimumHigh < ceiling))
        {
            throw new ArgumentException(
                $"Cardinal temperatures must rise: base {@base} < optimum {optimumLow} ≤ {optimumHigh} < ceiling {ceiling}.");
        }

        Base = @base;
        OptimumLow = optimumLow;
        OptimumHigh = optimumHigh;
        Ceiling = ceiling;
        FootKelvins = footKelvins;
        plateau = Rising(optimumLow.Celsius - @base.Celsius, footKelvins);
        footShare = footKelvins > 0 ? 1 / (12 * footKelvins) : 0;
    }

    /// <summary>Cardinal temperatures of a crop whose seeds differ in their ceiling.</summary>
    /// <param name="base">Tb.</param>
    /// <param name="optimumLow">To1.</param>
    /// <param name="ceilings">The seeds' ceilings; they give To2 and Tc.</param>
    /// <param name="footKelvins">w, 0 or more.</param>
    /// <exception cref="ArgumentException">The temperatures are out of order, or the foot is below 0.</exception>
    public CardinalTemperatures(Temperature @base, Temperature optimumLow, SeedCeilings ceilings, double footKelvins)
        : this(
            @base, optimumLow, (ceilings ?? throw new ArgumentNullException(nameof(ceilings))).FastestTo, ceilings.Highest, footKelvins) =>
        Ceilings = ceilings;

    /// <summary>How the seeds' ceilings lie; null where all are taken to be alike and the pace falls on a straight line from To2 to
    /// Tc.</summary>
    public SeedCeilings? Ceilings { get; }

    /// <summary>Warmth as days at temperatures have it, in place of the four between its ends; null where the four serve
    /// everywhere.</summary>
    public TriedWarmth? Tried { get; init; }

    /// <summary>Tb: where the straight limb, carried on, meets no progress.</summary>
    public Temperature Base { get; }

    /// <summary>To1: the coolest of the fastest temperatures.</summary>
    public Temperature OptimumLow { get; }

    /// <summary>To2: the warmest of the fastest temperatures.</summary>
    public Temperature OptimumHigh { get; }

    /// <summary>Tc: no progress at or above it.</summary>
    public Temperature Ceiling { get; }

    /// <summary>w: how far either side of the base the limb bends, K.</summary>
    public double FootKelvins { get; }

    /// <summary>No progress at or below it: the cold end of the foot.</summary>
    public Temperature Coldest => Temperature.FromCelsius(Base.Celsius - FootKelvins);

    /// <summary>The fastest progress that the crop knows, in °C·h an hour.</summary>
    public double BestWarmth => Tried is { } tried ? Math.Max(plateau, tried.Highest) : plateau;

    /// <summary>The temperature on the rising limb at which progress is a share of the fastest.</summary>
    /// <param name="share">Above 0, up to 1.</param>
    public Temperature Rising(double share) => RisingTo(share * BestWarmth);

    /// <summary>The temperature on the rising limb, carried on if need be, at which progress is so many °C·h an hour.</summary>
    /// <param name="warmth">Above 0.</param>
    public Temperature RisingTo(double warmth)
    {
        if (Tried is { } tried && tried.At(tried.Low) < warmth && tried.CoolestWith(warmth) is { } coolest)
        {
            return Temperature.FromCelsius(coolest);
        }

        return Temperature.FromCelsius(Base.Celsius + (warmth >= FootKelvins ? warmth : 2 * Math.Sqrt(FootKelvins * warmth) - FootKelvins));
    }

    /// <summary>What E would be if no heat were too much: the rising limb and the plateau, °C·h an hour. It weighs temperatures by what
    /// happens at them.</summary>
    internal double Unhindered(double celsius) => Rising(Math.Min(celsius, OptimumLow.Celsius) - Base.Celsius, FootKelvins);

    /// <summary>The same with another base, the plateau and the ceilings where they are.</summary>
    /// <param name="kelvins">By how much higher, less than the limb is long.</param>
    internal CardinalTemperatures WithBaseHigher(double kelvins)
    {
        var higher = Temperature.FromCelsius(Base.Celsius + kelvins);

        // What was measured at a temperature hangs on no base.
        return (Ceilings is { } ceilings ? new CardinalTemperatures(higher, OptimumLow, ceilings, FootKelvins)
            : new(higher, OptimumLow, OptimumHigh, Ceiling, FootKelvins)) with { Tried = Tried };
    }

    /// <summary>E(T), in °C·h an hour.</summary>
    public double EffectiveWarmth(Temperature temperature) => EffectiveWarmth(temperature.Celsius);

    /// <summary>
    /// The exact mean of E over a straight line from one temperature to another, in °C·h an hour: times the hours that
    /// the line takes, the warm-hours of that stretch. The line is split at the cardinal temperatures and at the ends of the foot, between
    /// which E is linear or a square, so the mean is exact.
    /// </summary>
    public double MeanEffectiveWarmth(Temperature from, Temperature to) => MeanEffectiveWarmth(from.Celsius, to.Celsius);

    internal double EffectiveWarmth(double celsius) =>
        Tried is { } tried && celsius >= tried.Low && celsius <= tried.High ? tried.At(celsius) : ByTheFour(celsius);

    private double ByTheFour(double celsius)
    {
        if (celsius >= Ceiling.Celsius)
        {
            return 0;
        }

        if (celsius < OptimumLow.Celsius)
        {
            return Rising(celsius - Base.Celsius, FootKelvins);
        }

        if (celsius <= OptimumHigh.Celsius)
        {
            return plateau;
        }

        return Ceilings is { } ceilings
            ? plateau * ceilings.PaceAt(celsius)
            : plateau * (Ceiling.Celsius - celsius) / (Ceiling.Celsius - OptimumHigh.Celsius);
    }

    internal double MeanEffectiveWarmth(double from, double to) => MeanBetween(Math.Min(from, to), Math.Max(from, to));

    /// <summary>The same, the cooler one first.</summary>
    internal double MeanBetween(double low, double high) =>
        Tried is null ? MeanByTheFour(low, high) : MeanWithTried(low, high, Tried);

    private double MeanWithTried(double low, double high, TriedWarmth tried)
    {
        if (high == low)
        {
            return EffectiveWarmth(low);
        }

        var (coolEnd, warmEnd) = (Math.Min(high, tried.Low), Math.Max(low, tried.High));
        var area = tried.Area(Math.Max(low, tried.Low), Math.Min(high, tried.High))
            + (coolEnd > low ? (coolEnd - low) * MeanByTheFour(low, coolEnd) : 0)
            + (high > warmEnd ? (high - warmEnd) * MeanByTheFour(warmEnd, high) : 0);
        return area / (high - low);
    }

    private double MeanByTheFour(double low, double high)
    {
        // Nearly every minute-to-minute step stays within the straight limb, the plateau or the foot, where no split is needed.
        if (high <= OptimumLow.Celsius)
        {
            var (from0, to0) = (low - Base.Celsius, high - Base.Celsius);
            if (from0 >= FootKelvins)
            {
                return (from0 + to0) / 2;
            }

            if (from0 > -FootKelvins && to0 <= FootKelvins)
            {
                return FootMean(from0 + FootKelvins, to0 + FootKelvins);
            }
        }
        else if (low >= OptimumLow.Celsius && high <= OptimumHigh.Celsius)
        {
            return plateau;
        }
        else if (low > OptimumHigh.Celsius && Ceilings is { } ceilings)
        {
            return plateau * ceilings.PaceMean(low, high);
        }

        var span = high - low;
        return span == 0 ? ByTheFour(low) : AreaBetween(low, high) / span;
    }

    /// <summary>The rising limb, so many kelvins above the base.</summary>
    internal static double Rising(double kelvins, double foot)
    {
        if (kelvins >= foot)
        {
            return kelvins;
        }

        var up = kelvins + foot;
        return up <= 0 ? 0 : up * up / (4 * foot);
    }

    /// <summary>The mean of u²/(4w) from one u to another.</summary>
    private double FootMean(double from, double to) => (from * from + from * to + to * to) * footShare;

    private double FootArea(double low, double high) =>
        high <= low ? 0 : (high - low) * FootMean(low - Base.Celsius + FootKelvins, high - Base.Celsius + FootKelvins);

    private double AreaBetween(double low, double high) =>
        FootArea(Math.Max(low, Base.Celsius - FootKelvins), Math.Min(high, Math.Min(Base.Celsius + FootKelvins, OptimumLow.Celsius)))
        + Trapezium(Math.Max(low, Math.Min(Base.Celsius + FootKelvins, OptimumLow.Celsius)), Math.Min(high, OptimumLow.Celsius))
        + Trapezium(Math.Max(low, OptimumLow.Celsius), Math.Min(high, OptimumHigh.Celsius))
        + FallingArea(Math.Max(low, OptimumHigh.Celsius), Math.Min(high, Ceiling.Celsius));

    private double FallingArea(double low, double high) =>
        Ceilings is { } ceilings ? plateau * ceilings.PaceArea(low, high) : Trapezium(low, high);

    private double Trapezium(double low, double high) =>
        high <= low ? 0 : (high - low) * (ByTheFour(low) + ByTheFour(high)) / 2;
}
