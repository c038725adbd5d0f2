using Chamber.Core.Climate;
using Chamber.Core.Climate.Warmth;
using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>What one day on a spot is worth to a crop.</summary>
/// <param name="Progress">Warm-hours a day, °C·h.</param>
/// <param name="Unhindered">What they would be if no heat were too much, °C·h.</param>
/// <param name="WarmUnhindered">The same, each times its temperature.</param>
/// <param name="HoursBelow">Hours below the cool limit.</param>
/// <param name="HoursAbove">Hours above the hot limit.</param>
internal readonly record struct CropDay(double Progress, double Unhindered, double WarmUnhindered, double HoursBelow, double HoursAbove)
{
    /// <summary>The mean temperature at which progress is made, or would be without the heat; there has to be some.</summary>
    public Temperature ProgressTemperature => Temperature.FromCelsius(WarmUnhindered / Unhindered);

    public static CropDay operator +(CropDay left, CropDay right) => new(
        left.Progress + right.Progress,
        left.Unhindered + right.Unhindered,
        left.WarmUnhindered + right.WarmUnhindered,
        left.HoursBelow + right.HoursBelow,
        left.HoursAbove + right.HoursAbove);

    public static CropDay operator *(CropDay day, double factor) => new(
        day.Progress * factor, day.Unhindered * factor, day.WarmUnhindered * factor, day.HoursBelow * factor, day.HoursAbove * factor);
}

/// <summary>
/// Reads a survey with the eyes of a crop. An hour of a day that was measured in part is completed by what that hour of day usually brings,
/// and an hour of day that was never measured by the mean of the others, so that a survey of afternoons does not pass for a day; its
/// coverage says so.
/// </summary>
internal static class CropDays
{
    /// <summary>A day with less than half of its hours says little about how days differ.</summary>
    private const double LeastOfADay = 12;

    /// <summary>The usual day, had everything been warmer by so much than it was measured.</summary>
    public static CropDay Shifted(Survey survey, Crop crop, TemperatureDifference warmer)
    {
        var grid = survey.Grid;
        var eye = new CropEye(crop, warmer.Kelvins);
        var (sums, weights) = (new CropDay[24], new double[24]);
        foreach (var slot in grid.Slots)
        {
            sums[slot.Hour] += eye.Sum(grid, slot);
            weights[slot.Hour] += slot.Measured;
        }

        return Rates(sums, weights).Aggregate(default(CropDay), (sum, rate) => sum + rate);
    }

    /// <summary>The usual day, and each day that was measured well enough (every day, if none was).</summary>
    public static (CropDay Usual, CropDay[] Days) Of(Survey survey, Crop crop)
    {
        var grid = survey.Grid;
        var eye = new CropEye(crop);
        var slots = new CropDay[grid.Slots.Count];
        var (sums, weights, dayWeights) = (new CropDay[24], new double[24], new double[grid.Days.Count]);
        for (var i = 0; i < slots.Length; i++)
        {
            var slot = grid.Slots[i];
            slots[i] = eye.Sum(grid, slot);
            sums[slot.Hour] += slots[i];
            weights[slot.Hour] += slot.Measured;
            dayWeights[slot.Day] += slot.Measured;
        }

        var rates = Rates(sums, weights);
        var usual = rates.Aggregate(default(CropDay), (sum, rate) => sum + rate);
        var days = Enumerable.Repeat(usual, dayWeights.Length).ToArray();
        for (var i = 0; i < slots.Length; i++)
        {
            // In the hour that the clock repeats up to 2 hours were measured; a day has it once.
            var (slot, measured) = (grid.Slots[i], Math.Min(1, grid.Slots[i].Measured));
            days[slot.Day] += (slots[i] * (1 / slot.Measured) + rates[slot.Hour] * -1) * measured;
        }

        var whole = days.Where((_, day) => dayWeights[day] >= LeastOfADay).ToArray();
        return (usual, whole.Length > 0 ? whole : days);
    }

    private static CropDay[] Rates(CropDay[] sums, double[] weights)
    {
        var measured = weights.Sum();
        var mean = measured > 0 ? sums.Aggregate(default(CropDay), (sum, each) => sum + each) * (1 / measured) : default;
        return [.. sums.Select((sum, hour) => weights[hour] > 0 ? sum * (1 / weights[hour]) : mean)];
    }

    /// <summary>A crop's numbers at hand for the many steps of a survey.</summary>
    private sealed class CropEye(Crop crop, double warmer = 0)
    {
        private readonly CardinalTemperatures cardinals = crop.Profile.Cardinals;
        private readonly double cool = crop.CoolLimit.Celsius;
        private readonly double hot = crop.HotLimit.Celsius;

        public CropDay Sum(SurveyGrid grid, SurveyGrid.Slot slot)
        {
            var (progress, unhindered, warm, below, above) = (0.0, 0.0, 0.0, 0.0, 0.0);
            for (var i = slot.Start; i < slot.End; i++)
            {
                var (hours, celsius) = (grid.Hours[i], grid.Celsius[i] + warmer);
                var weight = hours * cardinals.Unhindered(celsius);
                progress += hours * cardinals.EffectiveWarmth(celsius);
                unhindered += weight;
                warm += weight * celsius;
                below += celsius < cool ? hours : 0;
                above += celsius > hot ? hours : 0;
            }

            return new(progress, unhindered, warm, below, above);
        }
    }
}
