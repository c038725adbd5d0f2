using Chamber.Core.Statistics;

namespace Chamber.Core.Alerts;

/// <summary>
/// Watches the hourly means of one probe on one spot for a lasting shift from what is usual there at this hour of the day: a step by <see cref="StepSearch"/>,
/// and what creeps by Page's CUSUM of the residual, with limits for values that hang together. The usual follows the seasons: its level by a fifth of the
/// gap a day, its shape by a twentieth, neither by more than <see cref="Clip"/> at a time, so that a shift is not learnt away before it is found.
/// </summary>
internal sealed class DriftState
{
    /// <summary>k, K: the shift worth finding is about twice this.</summary>
    public const double Allowance = 0.6;

    /// <summary>Hours between two false signals of one side of the sum that its limit is set for: a year. The month that is allowed is left to steps.</summary>
    public const double RunLength = 8760;

    /// <summary>K, the mean of the hours since a shift, under which it is gone.</summary>
    public const double GoneKelvins = 0.5;

    /// <summary>Days of each hour before the watch begins.</summary>
    public const int LearningDays = 7;

    private const int Hours = 24;
    private const double Clip = 0.5;
    private const double LevelWeight = 0.2 / Hours;
    private const double ShapeWeight = 0.05;
    private const double LimitMin = 6;

    // K off the usual, the mean of the last 24 h for what creeps, of the last 12 h for a step: by less nothing would be seen to be wrong.
    private const double DayKelvins = 1;
    private const double StepKelvins = 0.6;

    // What a spot's long-run variance, K²h, is taken for before it is known, and for how many days that counts.
    private const double VariancePrior = 3;
    private const double VarianceMin = 1;
    private const int PriorDays = 8;
    private const int MemoryDays = 25;
    private const double DayCorrelationMax = 0.9;

    private double[] usual = new double[Hours];
    private int[] days = new int[Hours];
    private double[] recent = new double[Hours];
    private double level;
    private StepSearch steps = new();
    private double dailyVariance;
    private double dailyCovariance;
    private double dayBefore;
    private double daySum;
    private int dayCount;
    private int daysCounted;
    private int recentCount;
    private Cusum cusum;
    private double limit = CusumRunLength.LimitFor(Allowance, VariancePrior, RunLength);

    /// <summary>Whether every hour of the day has been seen often enough.</summary>
    public bool IsMature { get; private set; }

    /// <summary>Whether a shift was found and has not gone.</summary>
    public bool IsShifted { get; private set; }

    /// <summary>Hours that the shift found has lasted.</summary>
    public int ShiftHours { get; private set; }

    /// <summary>The mean residual since the shift, of the last day at most, K.</summary>
    public double Shift => MeanResidual(Math.Min(ShiftHours, Hours));

    /// <summary>The last hour less what is usual, K.</summary>
    public double Residual { get; private set; }

    /// <summary>What is usual at the hour taken in last, °C.</summary>
    public double Usual { get; private set; }

    public double Limit => limit;

    /// <summary>The long-run variance of the residual, K²h.</summary>
    public double Variance { get; private set; } = VariancePrior;

    /// <summary>The mean residual of the last hours, at most 24.</summary>
    public double MeanResidual(int hours)
    {
        var count = Math.Min(hours, Math.Min(recentCount, Hours));
        var sum = 0.0;
        for (var i = 1; i <= count; i++)
        {
            sum += recent[(recentCount - i) % Hours];
        }

        return count == 0 ? 0 : sum / count;
    }

    /// <summary>Takes in the mean of an hour; returns whether a shift was found.</summary>
    public bool Add(int hourOfDay, double celsius)
    {
        if (days[hourOfDay]++ == 0)
        {
            usual[hourOfDay] = celsius - level;
            return false;
        }

        Usual = usual[hourOfDay] + level;
        Residual = celsius - Usual;
        recent[recentCount++ % Hours] = Residual;
        steps.Add(hourOfDay, Residual);
        Learn(hourOfDay);
        CountDay();
        if (!IsMature)
        {
            IsMature = days.Min() > LearningDays;
            return false;
        }

        cusum = cusum.Add(Residual, Allowance);
        if (IsShifted)
        {
            ShiftHours++;
            return false;
        }

        ShiftHours = FindShift();
        IsShifted = ShiftHours > 0;
        return IsShifted;
    }

    /// <summary>The shift is gone: watch on.</summary>
    public void Settle()
    {
        IsShifted = false;
        cusum = default;
        steps.Begin();
    }

    /// <summary>The shift is the usual from now on.</summary>
    public void TakeAsUsual()
    {
        var shift = MeanResidual(Hours);
        level += shift;
        steps.Move(shift);
        Settle();
    }

    public DriftState Copy()
    {
        var copy = (DriftState)MemberwiseClone();
        copy.usual = [.. usual];
        copy.days = [.. days];
        copy.recent = [.. recent];
        copy.steps = steps.Copy();
        return copy;
    }

    private int FindShift()
    {
        if (steps.Find() && MeanResidual(Hours / 2) * Math.Sign(steps.Size) >= StepKelvins)
        {
            return steps.Lasted;
        }

        // A warm afternoon adds up to as much as a small shift does in days, but it is none: a whole day must lie off.
        return !cusum.Signals(limit) || Math.Abs(MeanResidual(Hours)) < DayKelvins ? 0
            : cusum.High >= cusum.Low ? cusum.HighCount : cusum.LowCount;
    }

    private void Learn(int hourOfDay)
    {
        if (!IsMature)
        {
            usual[hourOfDay] += Residual / days[hourOfDay];
        }
        else if (!IsShifted)
        {
            var step = Math.Clamp(Residual, -Clip, Clip);
            level += LevelWeight * step;
            usual[hourOfDay] += ShapeWeight * step;
        }
    }

    // Over many days sums spread by the variance of the daily means, and by how much a day is like the one before (ρ): v = 24 s² (1 + ρ)/(1 - ρ).
    private void CountDay()
    {
        daySum += Residual;
        if (++dayCount < Hours)
        {
            return;
        }

        var mean = daySum / dayCount;
        daySum = 0;
        dayCount = 0;
        if (IsShifted)
        {
            return;
        }

        // A day beyond three deviations is the sort of thing that is watched for, and must not widen the limit that finds it.
        var bound = 3 * Math.Sqrt(Variance / Hours);
        var clipped = Math.Clamp(mean, -bound, bound);
        daysCounted++;
        var share = Math.Max(1.0 / daysCounted, 1.0 / MemoryDays);
        dailyVariance += (clipped * clipped - dailyVariance) * share;
        dailyCovariance += (clipped * dayBefore - dailyCovariance) * share;
        dayBefore = clipped;
        var alike = Math.Clamp(dailyCovariance / Math.Max(dailyVariance, double.Epsilon), 0, DayCorrelationMax);
        var weight = Math.Min(daysCounted, MemoryDays);
        Variance = Math.Max(VarianceMin, (weight * Hours * dailyVariance * (1 + alike) / (1 - alike) + PriorDays * VariancePrior) / (weight + PriorDays));
        limit = Math.Max(LimitMin, CusumRunLength.LimitFor(Allowance, Variance, RunLength));
    }
}
