using Chamber.Core.Folding;
using Chamber.Core.Statistics;

namespace Chamber.Core.Alerts.Conditions.Drifting;

/// <summary>
/// Watches the hourly means of one probe on one spot for a lasting shift from what is usual there at this hour of the day. What the rest of
/// the home does at that hour is taken off as far as this spot usually goes along. Looked for are a step (<see cref="StepSearch"/>), a day
/// that differs from the one before (<see cref="DayComparison"/>), and what creeps, by Page's CUSUM with limits for values that hang
/// together.
/// </summary>
internal sealed class DriftState
{
    /// <summary>k, K: the shift worth finding is about twice this.</summary>
    public const double Allowance = 0.6;

    /// <summary>Hours between two false signals of one side of the sum that its limit is set for: a year. The month that is allowed is left
    /// to steps and days.</summary>
    public const double RunLength = 8760;

    /// <summary>K, the mean of the hours since a shift, under which it is gone.</summary>
    public const double GoneKelvins = 0.5;

    private const int Hours = 24;
    private const double LimitMin = 6;

    // K off the usual, the mean of the last 24 h for what creeps, of the last 12 h for a step or a day: by less nothing would be seen to be
    // wrong.
    private const double DayKelvins = 1;
    private const double StepKelvins = 0.6;

    // Deviations by which a step must stand out, and a day from the one before. More than normal values would need, since sun and heating
    // are not normal; alone, weather comes and goes by days. Chosen on simulated homes, and judged on others: docs/alerts.md.
    private const double StepDeviations = 6;
    private const double DayDeviationsShared = 2.8;
    private const double DayDeviationsAlone = 3.5;

    // A usual that was learnt in one week is off by what the weather was in it: all limits are three times as wide at first, and come down
    // in ten days.
    private const double YoungLimits = 3;
    private const int YoungHours = 10 * Hours;

    // What a spot's long-run variance, K²h, is taken for before it is known, and for how many days that counts.
    private const double VariancePrior = 3;
    private const double VarianceMin = 1;
    private const int PriorDays = 8;
    private const int MemoryDays = 25;
    private const double DayCorrelationMax = 0.9;

    private UsualDay usual;
    private SharedMovement shared;
    private StepSearch steps = new();
    private DayComparison days = new();
    private RecentHours recent;
    private RecentHours recentOwn;
    private bool? wasShared;
    private int watchedHours;
    private double dailyVariance;
    private double dailyCovariance;
    private double dayBefore;
    private double daySum;
    private int dayCount;
    private int daysCounted;
    private Cusum cusum;
    private double limit = CusumRunLength.LimitFor(Allowance, VariancePrior, RunLength);

    public DriftState()
        : this(new UsualDay())
    {
    }

    private DriftState(UsualDay usual) => this.usual = usual;

    /// <summary>For a series that is about 0 at each hour as it comes.</summary>
    public static DriftState OfResiduals() => new(UsualDay.OfResiduals());

    /// <summary>Whether every hour of the day has been seen often enough.</summary>
    public bool IsMature => usual.IsMature;

    /// <summary>Whether a shift was found and has not gone.</summary>
    public bool IsShifted { get; private set; }

    /// <summary>Hours that the shift found has lasted.</summary>
    public int ShiftHours { get; private set; }

    /// <summary>The mean residual since the shift, of the last day at most, K.</summary>
    public double Shift => MeanResidual(Math.Min(ShiftHours, Hours));

    /// <summary>The last hour less what was to be expected, K.</summary>
    public double Residual { get; private set; }

    /// <summary>What was to be expected at the hour taken in last, °C: the usual, and what the home did.</summary>
    public double Expected { get; private set; }

    public double Limit => limit;

    /// <summary>The long-run variance of the residual, K²h.</summary>
    public double Variance { get; private set; } = VariancePrior;

    /// <summary>The mean residual of the last hours, at most 24.</summary>
    public double MeanResidual(int hours) => recent.Mean(hours);

    /// <summary>The same without anything taken off for the home: how far it lies off its own usual.</summary>
    public double MeanOwnResidual(int hours) => recentOwn.Mean(hours);

    /// <summary>What is usual at an hour of the day, whatever the home does, °C; null before it was seen.</summary>
    public double? UsualAt(int hourOfDay) => usual.At(hourOfDay);

    /// <summary>How far an hour that is not taken in yet lies off its own usual, K; null before that is known.</summary>
    public double? OwnResidual(int hourOfDay, double celsius) => IsMature && usual.At(hourOfDay) is { } known ? celsius - known : null;

    /// <summary>Takes in the mean of an hour; returns whether a shift was found.</summary>
    /// <param name="hourOfDay">0 to 23.</param>
    /// <param name="celsius">The mean.</param>
    /// <param name="common">What the rest of the home did at that hour, K off its usual; null where there is too little of it.</param>
    public bool Add(int hourOfDay, double celsius, double? common = null)
    {
        if (usual.At(hourOfDay) is not { } known)
        {
            usual.Learn(hourOfDay, celsius, follow: true);
            return false;
        }

        var wasMature = IsMature;
        var own = celsius - known;
        Measure(hourOfDay, own, celsius, common);
        usual.Learn(hourOfDay, celsius, follow: !IsShifted);
        CountDay();
        if (!wasMature)
        {
            days.Add(hourOfDay, Residual, DayDeviations(common), learn: true);
            return false;
        }

        watchedHours = Math.Min(watchedHours + 1, YoungHours);
        cusum = cusum.Add(Residual, Allowance);
        var isOtherDay = days.Add(hourOfDay, Residual, DayDeviations(common) * Youth(), learn: !IsShifted);
        if (IsShifted)
        {
            ShiftHours++;
            return false;
        }

        ShiftHours = FindShift(isOtherDay);
        IsShifted = ShiftHours > 0;
        return IsShifted;
    }

    /// <summary>The shift is gone: watch on.</summary>
    public void Settle()
    {
        IsShifted = false;
        cusum = default;
        steps.Begin();
        days.Begin();
    }

    /// <summary>A shift was found before a restart.</summary>
    /// <param name="hours">How long it had lasted.</param>
    public void Resume(int hours) => (IsShifted, ShiftHours) = (true, hours);

    /// <summary>The shift is the usual from now on.</summary>
    public void TakeAsUsual()
    {
        var shift = MeanResidual(Hours);
        usual.Move(shift);
        steps.Move(shift);
        days.Break();
        Settle();
    }

    /// <summary>The probe was given another offset: what it says and what is usual move together.</summary>
    public void Move(double kelvins) => usual.Move(kelvins);

    /// <summary>A copy that is independent: everything in it is a value.</summary>
    public DriftState Copy() => (DriftState)MemberwiseClone();

    private static double DayDeviations(double? common) => common is null ? DayDeviationsAlone : DayDeviationsShared;

    private void Measure(int hourOfDay, double own, double celsius, double? common)
    {
        if (wasShared is { } before && before != common is not null)
        {
            // Another measure: the two do not follow on one another.
            steps.Break();
            days.Break();
        }

        wasShared = common is not null;
        Residual = own - (common is { } home ? shared.Explained(hourOfDay, home) : 0);
        Expected = celsius - Residual;
        if (common is { } movement && !IsShifted)
        {
            shared.Learn(hourOfDay, own, movement);
        }

        recent.Add(Residual);
        recentOwn.Add(own);
        steps.Add(hourOfDay, Residual);
    }

    private int FindShift(bool isOtherDay)
    {
        if (steps.Find(StepDeviations * Youth()) && MeanResidual(Hours / 2) * Math.Sign(steps.Size) >= StepKelvins)
        {
            return steps.Lasted;
        }

        if (isOtherDay && days.Level * Math.Sign(days.Difference) >= StepKelvins)
        {
            return Hours;
        }

        // A warm afternoon adds up to as much as a small shift does in days, but it is none: a whole day must lie off.
        return !cusum.Signals(limit * Youth()) || Math.Abs(MeanResidual(Hours)) < DayKelvins ? 0
            : cusum.High >= cusum.Low ? cusum.HighCount : cusum.LowCount;
    }

    private double Youth() => 1 + (YoungLimits - 1) * (1 - watchedHours / (double)YoungHours);

    // Over many days sums spread by the variance of the daily means, and by how much a day is like the one before (ρ): v = 24 s² (1 + ρ)/(1
    // - ρ).
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
        Variance = Math.Max(VarianceMin,
            (weight * Hours * dailyVariance * (1 + alike) / (1 - alike) + PriorDays * VariancePrior) / (weight + PriorDays));
        limit = Math.Max(LimitMin, CusumRunLength.LimitFor(Allowance, Variance, RunLength));
    }
}
