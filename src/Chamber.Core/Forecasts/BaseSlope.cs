using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;

namespace Chamber.Core.Forecasts;

/// <summary>
/// What it does to a batch if the base of its crop truly lies higher than the table's. θ50 is known best where packets and tables are
/// tried most, at the cool end of the crop's ideal band between 18 and 22 °C; a higher base makes seed slower where it is colder than
/// that, and a little faster where it is warmer. To first order, which holds to a quarter over what the base is unsure by
/// (<c>LearnedShapeTests</c>).
/// </summary>
internal static class BaseSlope
{
    private const double StepKelvins = 0.5;

    /// <summary>By how much ln of the warm-hours to half, counted by the table, changes for each kelvin that the base lies higher: 0 where
    /// θ50 is known best, above 0 where it is colder, 1/K.</summary>
    /// <param name="crop">The crop.</param>
    /// <param name="warmth">Warm-hours, or their pace, where the batch stands, from cardinal temperatures; 0 says nothing.</param>
    public static double Of(Crop crop, Func<CardinalTemperatures, double> warmth)
    {
        var cardinals = crop.Profile.Cardinals;
        var step = Math.Min(StepKelvins, (cardinals.OptimumLow.Celsius - cardinals.Base.Celsius) / 4);
        var (lower, higher) = (cardinals.WithBaseHigher(-step), cardinals.WithBaseHigher(step));
        var known = UsualDays.HoldAt(crop.IdealBand);
        return Slower(warmth) - Slower(each => each.EffectiveWarmth(known));

        double Slower(Func<CardinalTemperatures, double> of) =>
            (of(lower), of(higher)) is ( > 0 and var cold, > 0 and var warm) ? Math.Log(cold / warm) / (2 * step) : 0;
    }

    /// <summary>The same at a steady temperature.</summary>
    public static double At(Crop crop, Temperature temperature) => Of(crop, cardinals => cardinals.EffectiveWarmth(temperature));

    /// <summary>The same over a usual day.</summary>
    public static double Over(Crop crop, HourOfDayProfile usual) => Of(crop, cardinals =>
        usual.Hours.Where(hour => hour is not null).Sum(hour => cardinals.EffectiveWarmth(hour!.Value.Mean)));
}
