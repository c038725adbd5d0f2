using System.Runtime.CompilerServices;
using Chamber.Core.Climate;
using Chamber.Core.Crops;

namespace Chamber.Core.Spots;

/// <summary>What one day on a spot is worth to a crop.</summary>
/// <param name="Progress">Warm-hours a day, °C·h.</param>
/// <param name="WarmProgress">The same, each times its temperature: over <paramref name="Progress"/> it is the mean temperature of
/// progress.</param>
/// <param name="HeatShare">Share of the best stand that the day's warm side leaves, 0 to 1.</param>
/// <param name="HoursBelow">Hours below the cool limit.</param>
/// <param name="HoursAbove">Hours above the hot limit.</param>
internal readonly record struct CropDay(double Progress, double WarmProgress, double HeatShare, double HoursBelow, double HoursAbove)
{
    public static CropDay operator +(CropDay left, CropDay right) => new(
        left.Progress + right.Progress,
        left.WarmProgress + right.WarmProgress,
        left.HeatShare + right.HeatShare,
        left.HoursBelow + right.HoursBelow,
        left.HoursAbove + right.HoursAbove);

    public static CropDay operator *(CropDay day, double factor) => new(
        day.Progress * factor, day.WarmProgress * factor, day.HeatShare * factor, day.HoursBelow * factor, day.HoursAbove * factor);
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
        private const int Coldest = -60;
        private const int Steps = 180 * (int)SurveyGrid.StepsPerDegree;

        // Making them takes as long as reading a survey of two weeks with them.
        private static readonly ConditionalWeakTable<StandCurve, double[]> HeatSharesOf = [];

        private readonly CardinalTemperatures cardinals = crop.Profile.Cardinals;
        private readonly double cool = crop.CoolLimit.Celsius;
        private readonly double hot = crop.HotLimit.Celsius;
        private readonly double[] heatShares = HeatSharesOf.GetValue(crop.Stand, HeatShares);

        public CropDay Sum(SurveyGrid grid, SurveyGrid.Slot slot)
        {
            var (progress, warm, heat, below, above) = (0.0, 0.0, 0.0, 0.0, 0.0);
            for (var i = slot.Start; i < slot.End; i++)
            {
                var (hours, celsius) = (grid.Hours[i], grid.Celsius[i] + warmer);
                var gain = hours * cardinals.EffectiveWarmth(celsius);
                progress += gain;
                warm += gain * celsius;
                heat += hours * heatShares[Math.Clamp((int)((celsius - Coldest) * SurveyGrid.StepsPerDegree), 0, Steps - 1)];
                below += celsius < cool ? hours : 0;
                above += celsius > hot ? hours : 0;
            }

            return new(progress, warm, heat / 24, below, above);
        }

        /// <summary>The stand above the warmest temperature that gives the best one, as a share of the best, at the middle of each step; 1
        /// below it.</summary>
        private static double[] HeatShares(StandCurve stand)
        {
            var best = stand.Points.Where(point => point.Share >= stand.Best - 1e-9).Max(point => point.Temperature.Celsius);
            return [.. Enumerable.Range(0, Steps).Select(step =>
            {
                var celsius = Coldest + (step + 0.5) / SurveyGrid.StepsPerDegree;
                return celsius <= best || stand.Best <= 0 ? 1 : stand.ShareAt(Temperature.FromCelsius(celsius)) / stand.Best;
            })];
        }
    }
}
