using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;

namespace Chamber.Core.Crops;

/// <summary>
/// What temperatures leave of the seed that could come up. A seed comes up when its ceiling lies above the temperature at which it makes
/// its progress, on average over a day: a few hot hours between cool ones slow it and do not stop it (laboratories test most vegetables
/// at 20 °C for 16 h and 30 °C for 8 h a day, 7 CFR 201.58), and a cold night between warm days counts for as little as it brings. So each
/// day is worth the crop's stand at its mean temperature, every hour weighted by the progress that it would bring if no heat were too
/// much; days weigh by their measured time. The default has seen nothing.
/// </summary>
/// <param name="Hours">Measured time of the days that are over, h.</param>
/// <param name="StandHours">That time, each day weighed by the share it leaves, h.</param>
public readonly record struct StandTally(double Hours, double StandHours)
{
    private const double Day = 24;

    private double OpenHours { get; init; }

    private double OpenWeight { get; init; }

    private double OpenSum { get; init; }

    private double OpenCelsiusHours { get; init; }

    /// <summary>The share that the temperatures leave, 0 to 1; 1 while nothing was measured.</summary>
    /// <param name="stand">The crop's stand.</param>
    /// <param name="warmerKelvins">By how much all ceilings lie higher than the curve has them, K.</param>
    public double Share(StandCurve stand, double warmerKelvins = 0)
    {
        ArgumentNullException.ThrowIfNull(stand);
        var hours = Hours + OpenHours;
        return hours > 0 ? Math.Min(1, (StandHours + OpenHours * OpenShare(stand, warmerKelvins)) / hours) : 1;
    }

    /// <summary>Over temperatures that stand an hour apart.</summary>
    public static StandTally Over(Crop crop, IEnumerable<Temperature> hours, double warmerKelvins = 0)
    {
        ArgumentNullException.ThrowIfNull(crop);
        ArgumentNullException.ThrowIfNull(hours);
        return hours.Aggregate(default(StandTally), (tally, hour) =>
            tally.With(crop.Stand, crop.Profile.Cardinals, 1, hour.Celsius, warmerKelvins));
    }

    /// <summary>One straight line of temperature more, by its middle.</summary>
    /// <param name="stand">The crop's stand.</param>
    /// <param name="cardinals">The crop's temperatures.</param>
    /// <param name="hours">How long it lasts, h.</param>
    /// <param name="meanCelsius">Its middle, °C.</param>
    /// <param name="warmerKelvins">By how much all ceilings lie higher than the curve has them, K; the same in every call.</param>
    public StandTally With(StandCurve stand, in CardinalTemperatures cardinals, double hours, double meanCelsius, double warmerKelvins = 0)
    {
        ArgumentNullException.ThrowIfNull(stand);
        var tally = this;
        if (OpenHours + hours >= Day)
        {
            var first = Day - OpenHours;
            tally = Put(cardinals, first, meanCelsius).Closed(stand, warmerKelvins);
            hours -= first;
            var whole = Day * Math.Floor(hours / Day);
            tally = whole > 0 ? tally.Put(cardinals, whole, meanCelsius).Closed(stand, warmerKelvins) : tally;
            hours -= whole;
        }

        return tally.Put(cardinals, hours, meanCelsius);
    }

    private StandTally Put(in CardinalTemperatures cardinals, double hours, double celsius)
    {
        var weight = hours * cardinals.Unhindered(celsius);
        return this with
        {
            OpenHours = OpenHours + hours,
            OpenWeight = OpenWeight + weight,
            OpenSum = OpenSum + weight * celsius,
            OpenCelsiusHours = OpenCelsiusHours + hours * celsius,
        };
    }

    private StandTally Closed(StandCurve stand, double warmerKelvins) =>
        new(Hours + OpenHours, StandHours + OpenHours * OpenShare(stand, warmerKelvins));

    // Where nothing makes progress all day, the plain mean says whether cold does it.
    private double OpenShare(StandCurve stand, double warmerKelvins) => OpenHours <= 0 ? 1 : stand.RelativeAt(
        Temperature.FromCelsius(OpenWeight > 0 ? OpenSum / OpenWeight : OpenCelsiusHours / OpenHours), warmerKelvins);
}
