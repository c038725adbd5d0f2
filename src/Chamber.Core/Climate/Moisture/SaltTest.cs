using System.Globalization;

namespace Chamber.Core.Climate.Moisture;

/// <summary>What a salt test came to: points to add to the humidity, or the reason why none can be found.</summary>
/// <param name="Points">Percentage points to add; null when none can be found.</param>
/// <param name="Uncertainty">Half of the 95 % interval, points.</param>
/// <param name="Refusal">Why not; empty when there is one.</param>
public sealed record HumidityAnswer(double? Points, double Uncertainty, string Refusal);

/// <summary>
/// A humidity sensor in a closed jar over a slurry of table salt, whose air has a known humidity. RH = 69.20 exp(25 / T), T in kelvins,
/// 10 to 40 °C, good to 2 %: A. Wexler, "Constant Humidity Solutions", CRC Handbook of Chemistry and Physics, 86th edition, 2005, section
/// 15, after L. Greenspan, "Humidity Fixed Points of Binary Saturated Aqueous Solutions", J. Res. NBS 81A, 1977. Other bounds are common
/// practice, no source.
/// </summary>
public static class SaltTest
{
    /// <summary>Fewer readings tell too little.</summary>
    public const int ReadingsMin = 5;

    private const double SaltWithin = 2;
    private const double SettledWithin = 2;
    private const double PointsMax = 20;
    private const double MinutesMin = 60;

    /// <summary>The humidity over a saturated solution of table salt; 10 to 40 °C.</summary>
    public static RelativeHumidity OverTableSalt(Temperature temperature) =>
        RelativeHumidity.FromPercent(69.20 * Math.Exp(25 / (temperature.Celsius - Temperature.AbsoluteZeroCelsius)));

    /// <summary>Judges the readings that were made in the jar.</summary>
    /// <param name="readings">Those with a humidity, without any offset.</param>
    /// <param name="temperature">The temperature in the jar.</param>
    public static HumidityAnswer Judge(IReadOnlyList<Reading> readings, Temperature temperature)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var said = readings.Where(reading => reading.Humidity is not null).ToList();
        if (said.Count < ReadingsMin
            || (said.Max(reading => reading.MeasuredAt) - said.Min(reading => reading.MeasuredAt)).TotalMinutes < MinutesMin)
        {
            return No(string.Create(CultureInfo.InvariantCulture,
                $"There are {said.Count} readings of humidity in that time; {ReadingsMin} over at least {MinutesMin:0} "
                    + $"minutes are needed."));
        }

        if (temperature.Celsius is < 10 or > 40)
        {
            return No("The humidity over table salt is known from 10 to 40 °C: put the jar into an ordinary room.");
        }

        var percent = said.ConvertAll(reading => reading.Humidity!.Value.Percent);
        if (percent.Max() - percent.Min() > SettledWithin)
        {
            return No(string.Create(CultureInfo.InvariantCulture,
                $"It still moved by {percent.Max() - percent.Min():0.0} points: the air over salt needs half a day to settle; name the "
                + $"time after that with --from."));
        }

        var points = OverTableSalt(temperature).Percent - percent.Average();
        return Math.Abs(points) > PointsMax
            ? No(string.Create(CultureInfo.InvariantCulture,
                $"It is {Math.Abs(points):0} points off: it is worn out, or the jar is not tight, or the slurry has no undissolved salt."))
            : new(points, Math.Sqrt(SaltWithin * SaltWithin + (percent.Max() - percent.Min()) * (percent.Max() - percent.Min()) / 4), "");
    }

    private static HumidityAnswer No(string why) => new(null, 0, why);
}
