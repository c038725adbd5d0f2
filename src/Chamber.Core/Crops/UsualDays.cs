using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// The days that packets and handbooks print for a crop: a second witness of how long it takes, beside the 1954 table. They are meant for
/// a room, not for the best temperature, and a wet mix in a room of 21 °C is some kelvins cooler; so they are taken to hold at the cool
/// end of the crop's band, between 18 and 22 °C.
/// </summary>
/// <remarks>
/// Over the 24 crops of the table three sources can be compared: the table, the usual days, and the thermal times to 50 % emergence of
/// J.F. Bierhuizen and W.A. Wagenvoort, Sci. Hort. 2 (1974) 213-219, as remembered. Each of the three strays from the other two by a
/// own standard deviation in ln days (a three-cornered hat): 0.25 the table, 0.21 the usual days, 0.33 the remembered thermal
/// times. So the table and the usual days weigh alike; regression of the third source on the two says 0.6 to 0.7 for the usual days. The
/// third is in no crop's θ50; it judges, and it has a say in these weights and in the least deviation.
/// </remarks>
internal static class UsualDays
{
    /// <summary>The weight of the usual days beside the table, in ln days.</summary>
    public const double Weight = 0.5;

    /// <summary>What two such sources that agree leave open, ln θ50: √(0.25² · 0.21² / (0.25² + 0.21²)).</summary>
    public const double LeastDeviation = 0.16;

    /// <summary>How far one crop of a family lies from another, ln θ50: the relatives of the table and of the remembered thermal
    /// times.</summary>
    public const double FamilyDeviation = 0.13;

    /// <summary>
    /// How far the usual days alone are off, ln θ50. Profiles derived from them for the 24 crops of the table, as if there were no table,
    /// miss its cells of 15 to 25 °C by 0.32 beside their mean.
    /// </summary>
    public const double AloneDeviation = 0.30;

    private const double CoolestRoom = 18;
    private const double WarmestRoom = 22;

    /// <summary>The temperature of the mix at which the usual days are taken to hold.</summary>
    public static Temperature HoldAt(TemperatureBand band) =>
        Temperature.FromCelsius(Math.Clamp(band.Low.Celsius, CoolestRoom, WarmestRoom));

    /// <summary>The geometric mean of the fewest and the most days printed.</summary>
    public static double Middle(WholeRange days) => Math.Sqrt((double)days.Low * days.High);

    /// <summary>ln of the usual days over those of a profile, where the usual days hold.</summary>
    public static double LogBeyond(WholeRange days, TemperatureBand band, CardinalTemperatures cardinals, WarmHours half) =>
        Math.Log(Middle(days) * cardinals.EffectiveWarmth(HoldAt(band)) / half.CelsiusDays);

    /// <summary>A fit to the table with the usual days beside it.</summary>
    /// <param name="half">θ50 of the fit.</param>
    /// <param name="beyond">ln of the usual days over those of the fit.</param>
    public static WarmHours Joined(WarmHours half, double beyond) =>
        WarmHours.FromCelsiusHours(Math.Round(half.CelsiusHours * Math.Exp(Weight * beyond)));

    /// <summary>
    /// What is then unsure of a crop's θ50, ln: how far its own two sources lie apart, at least <see cref="LeastDeviation"/>; what the fit
    /// leaves open and what a relative may differ come on top, as squares.
    /// </summary>
    public static double Deviation(double beyond, double fitDeviation, bool borrowed)
    {
        var apart = Math.Max(LeastDeviation, Math.Sqrt(Weight * (1 - Weight)) * Math.Abs(beyond));
        var family = borrowed ? FamilyDeviation : 0;
        return Math.Round(Math.Sqrt(apart * apart + fitDeviation * fitDeviation + family * family), 2);
    }
}
