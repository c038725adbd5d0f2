using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Trials;

/// <summary>The numbers of a profile as the search sees them.</summary>
internal enum TrialNumber
{
    Base,
    OptimumLow,
    OptimumHigh,
    Ceiling,

    /// <summary>ln of the days to half at the fastest temperature. In a profile of this one, ln θ50 is held instead.</summary>
    LogFastest,
    LogSpread,

    /// <summary>The angle x with G = sin²(x), which needs no bounds.</summary>
    Angle,
}

/// <summary>One point of the search: seven numbers.</summary>
internal readonly record struct TrialPoint(double[] At)
{
    public const int Numbers = 7;

    /// <summary>No crop is known to make progress below this; a base that could lie there cannot be known from the trials.</summary>
    public const double CoolestBase = -15;

    /// <summary>Nor above this.</summary>
    public const double WarmestCeiling = 55;

    public const double LeastGap = 0.05;
    public const double SpreadMin = 0.01;
    public const double SpreadMax = 2;

    public double this[TrialNumber number] => At[(int)number];

    public double Spread => Math.Exp(this[TrialNumber.LogSpread]);

    public double Share => Math.Pow(Math.Sin(this[TrialNumber.Angle]), 2);

    public double BestWarmth => this[TrialNumber.OptimumLow] - this[TrialNumber.Base];

    /// <summary>ln θ50, θ50 in °C·h.</summary>
    public double LogHalfWarmHours => this[TrialNumber.LogFastest] + Math.Log(24 * BestWarmth);

    public CardinalTemperatures Cardinals => new(
        Temperature.FromCelsius(this[TrialNumber.Base]),
        Temperature.FromCelsius(this[TrialNumber.OptimumLow]),
        Temperature.FromCelsius(this[TrialNumber.OptimumHigh]),
        Temperature.FromCelsius(this[TrialNumber.Ceiling]));

    /// <summary>ln of the days to half at a steady temperature, °C; infinite where nothing comes up.</summary>
    public double LogHalfDays(double celsius)
    {
        var warmth = Cardinals.EffectiveWarmth(celsius);
        return warmth > 0 ? this[TrialNumber.LogFastest] + Math.Log(BestWarmth) - Math.Log(warmth) : double.PositiveInfinity;
    }

    /// <summary>By how much the numbers leave their order and range; 0 when they can stand.</summary>
    public double OutOfOrder()
    {
        var (low, from, to, high) = (At[0], At[1], At[2], At[3]);
        var logSpread = this[TrialNumber.LogSpread];
        return Over(CoolestBase - low) + Over(low + LeastGap - from) + Over(from - to) + Over(to + LeastGap - high)
            + Over(high - WarmestCeiling)
            + Over(Math.Log(SpreadMin) - logSpread) + Over(logSpread - Math.Log(SpreadMax));
    }

    private static double Over(double excess) => Math.Max(excess, 0);
}
